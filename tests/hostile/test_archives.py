"""Backups of strangers are restored whole or refused in a sentence, and nothing else is written."""

from pathlib import Path

import pytest

from snugset.journal.carry import restore
from snugset.journal.shelf import Shelf

from .archives import kept, restore_mutants


def test_mutants_are_restored_or_told(tmp_path: Path) -> None:
    tally = restore_mutants(range(150), tmp_path)
    assert 3 < tally.taken < tally.files == 150


def test_they_come_of_a_backup_that_is_restored(tmp_path: Path) -> None:
    (tmp_path / "in.snugset").write_bytes(kept())
    assert restore(tmp_path / "in.snugset", Shelf(tmp_path / "data"))


def test_a_name_in_the_list_that_is_not_the_one_at_its_place(tmp_path: Path) -> None:
    """The library tells both names whole, and the second is as long as the header has it."""
    content = bytearray(kept())
    content[26:28] = (60_000).to_bytes(2, "little")
    (tmp_path / "in.snugset").write_bytes(content)
    with pytest.raises(Exception, match="it is damaged") as told:
        restore(tmp_path / "in.snugset", Shelf(tmp_path / "data"))
    assert len(str(told.value)) < 300
