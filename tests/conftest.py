"""What holds for the run of all tests, and proves nothing: what makes it cheaper."""

import gc
import os

os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
"""A program that a test starts keeps what it compiled, as an installed one has it."""


def pytest_collection_finish() -> None:
    """Look for refuse seldom, and never in what is loaded: tests of screens spent a quarter there.

    What a test leaves open is found all the same, now and then and at the end.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 10, 10)
