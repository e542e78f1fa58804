"""Builds of earlier releases read as they always did: the same digest, the same state, for ever."""

import json
from pathlib import Path

import pytest

from snugset import __version__
from snugset.bench import Bench
from snugset.guide.apply import KINDS, fold
from snugset.guide.scene import when
from snugset.journal.carry import restore
from snugset.journal.reading import read_records, verify
from snugset.journal.shelf import Shelf
from snugset.play import Paced

from .helpers import owner
from .make_release import RELEASES, summary

KEPT = sorted(RELEASES.glob("*.snugset"))


def test_there_is_a_build_of_this_release_and_every_kind_of_event_is_in_one() -> None:
    assert __version__ in {file.stem for file in KEPT}
    told = [json.loads(file.with_suffix(".json").read_text("utf-8"))["kinds"] for file in KEPT]
    missing = KINDS.difference(*told)
    assert not missing, f"make the release's build anew: it has no {sorted(missing)}"


@pytest.mark.parametrize("file", KEPT, ids=lambda p: p.stem)
def test_a_build_of_a_release_folds_as_it_did(file: Path, tmp_path: Path) -> None:
    told = json.loads(file.with_suffix(".json").read_text("utf-8"))
    folder = Shelf(tmp_path).path / restore(file, Shelf(tmp_path))
    verdict = verify(folder)
    assert (verdict.whole, verdict.digest) == (True, told["digest"])
    records = read_records(folder)
    assert len(records) == told["records"]
    photographs = {r.body["name"] for r in records if r.kind == "photograph"}
    assert {path.name for path in (folder / "attachments").iterdir()} == photographs
    assert sorted({record.kind for record in records}) == told["kinds"]
    assert set(told["kinds"]) <= KINDS, "a kind of event is never given up"
    found = json.loads(json.dumps(summary(fold(records))))
    for name, value in told["state"].items():
        # A later Snugset may know more of a build; what an earlier one knew stays as it was.
        assert _holds(found[name], value), name
    clock = Paced(when(records[-1].at))
    with Bench.open(folder, owner=owner(), clock=clock, fresh=True) as bench:
        assert bench.prompt() is not None


def _holds(found: object, told: object) -> bool:
    """Tell whether a value holds everything that was told of it."""
    if isinstance(told, dict):
        if not isinstance(found, dict):
            return False
        return all(key in found and _holds(found[key], part) for key, part in told.items())
    if isinstance(told, list):
        if not isinstance(found, list) or len(found) != len(told):
            return False
        return all(_holds(one, other) for one, other in zip(found, told, strict=True))
    return found == told
