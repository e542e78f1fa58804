"""Newer files of strangers for a build that has begun: it takes them whole, or stays as it is."""

from pathlib import Path

from .revised import revise_mutants


def test_spoiled_files_revise_a_build_or_leave_it(tmp_path: Path) -> None:
    tally = revise_mutants(range(14), tmp_path)
    assert 1 < tally.taken < tally.files == 14
