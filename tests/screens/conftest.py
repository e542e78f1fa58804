"""A stage for each test."""

from pathlib import Path

import pytest

from snugset.screens.answer import Answer

from .stage import Stage, stage

HELD = Answer.HELD


@pytest.fixture(autouse=True)
def quick_fingers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let one Enter follow on another at once: a test's hand is quicker than a builder's."""
    monkeypatch.setattr(Answer, "HELD", 0.0)


@pytest.fixture
def held_keys(monkeypatch: pytest.MonkeyPatch) -> None:
    """Count a key that comes again at once as one that is held down, as for a builder."""
    monkeypatch.setattr(Answer, "HELD", HELD)


@pytest.fixture
def there(tmp_path: Path) -> Stage:
    """Give a shelf of the test's own, and a clock that is told."""
    return stage(tmp_path / "data")
