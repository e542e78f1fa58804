"""Every call that one append makes to the disk fails once, and once for good."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from driving import table
from snugset.journal.journal import Journal
from snugset.stored import head_of

from . import faulty_disk
from .helpers import owner


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The library that makes calls fail, built from its source."""
    built = faulty_disk.library(tmp_path_factory.mktemp("faulty"))
    if built is None:
        pytest.skip("there is no C compiler here, or no Linux, to make calls fail")
    return built


def test_no_fault_of_the_disk_loses_an_answer_or_is_taken_for_damage(
    library: Path, tmp_path: Path
) -> None:
    told = table()
    folder = tmp_path / "barn"
    head = head_of(told.plan, told.state, told.now)
    Journal.create(folder, owner=owner(), records=told.records, head=head).close()
    done = subprocess.run(
        [sys.executable, faulty_disk.__file__, folder],
        env={**os.environ, "LD_PRELOAD": str(library)},
        capture_output=True,
        text=True,
        check=False,
        timeout=240,
    )
    assert done.stdout, done.stderr
    found = json.loads(done.stdout)
    assert found["wrong"] == []
    failed = found["failed"]
    assert set(failed) == {*(name for name, *_ in faulty_disk.FAULTS), "opening", "reading"}
    assert min(failed["full disk"], failed["write error, short"], failed["reading"]) > 5
    assert found["kept after all"]["sync error for good"] > 0
