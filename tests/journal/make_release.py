"""Writes the build that every later Snugset must read as this one does; run once a release.

``make_release.py VERSION`` plays the demo, with every other kind of event on the way, and writes
``release/VERSION.snugset``, a backup, and ``release/VERSION.json``, what it folds to. It is refused
where a kind of event is not played; one that is there is never written again.
"""

import json
import sys
import tempfile
from decimal import Decimal
from pathlib import Path
from typing import Any

import killing
from driving import ANSWERS, ENGINE
from snugset.bench import Bench
from snugset.files.answers import Say
from snugset.guide.address import Address
from snugset.guide.apply import KINDS
from snugset.guide.beside import HANDOVER
from snugset.guide.ruling import Refusal
from snugset.guide.state import State
from snugset.journal.carry import backup
from snugset.journal.shelf import Shelf
from snugset.play import Paced, read_answers_file
from snugset.revising import revise
from snugset.units import Quantity

RELEASES = Path(__file__).parent / "release"
PICTURE = b"\x89PNG\r\n\x1a\nThe first bytes of a photograph, and no more of one."


def plain(value: object) -> Any:  # noqa: ANN401 - plain JSON
    """Give a state, or a part of it, as plain JSON with its keys in order."""
    if value is None or isinstance(value, str | int | bool):
        return value
    if isinstance(value, Quantity):
        return str(value)
    if isinstance(value, Decimal | Address):
        return str(value)
    if isinstance(value, tuple | list):
        return [plain(part) for part in value]
    if isinstance(value, dict) or hasattr(value, "items"):
        found = value.items()
        return {str(key): plain(part) for key, part in sorted(found, key=lambda p: str(p[0]))}
    names = getattr(value, "__slots__", None) or vars(value)
    return {name: plain(getattr(value, name)) for name in sorted(names)}


def summary(state: State) -> dict[str, Any]:
    """Give everything that a state holds, as plain JSON."""
    found: dict[str, Any] = plain(state)
    return found


def _say(bench: Bench, clock: Paced, typed: str, at: str = "") -> None:
    clock.advance(45)
    outcome = bench.say(typed, at=Address.parse(at) if at else None)
    if isinstance(outcome, Refusal):
        raise SystemExit(f"{at} {typed}: {outcome.words}")


def main(version: str) -> int:
    """Play, and write what came of it."""
    answers = read_answers_file(ANSWERS)
    with tempfile.TemporaryDirectory() as place:
        folder = killing.new(answers, ANSWERS, Shelf(Path(place)))
        clock = Paced(answers.start)
        with Bench.open(folder, owner=killing.OWNER, clock=clock, fresh=True) as bench:
            bench.person = answers.person
            for number, entry in enumerate(answers.answers):
                if isinstance(entry, Say) and entry.at == "spec.cover-torque" and not entry.refused:
                    _say(bench, clock, entry.text.partition(";")[0], entry.at)
                    _say(bench, clock, "leaflet")
                    continue
                if isinstance(entry, Say) and entry.at == "workplace":
                    _say(bench, clock, "skip it is swept")
                    continue
                killing.give(bench, clock, answers, number)
            _say(bench, clock, "again 0.022..0.062 in; another card", "spec.preload-window")
            _say(bench, clock, "note taken back at once")
            _say(bench, clock, "back")
            picture = Path(place) / "deck.png"
            for content, caption in ((PICTURE, "deck"), (PICTURE[:-1], "taken back at once")):
                picture.write_bytes(content)
                _say(bench, clock, f"photo {picture} {caption}")
            _say(bench, clock, "back")
            for person in ("Ida", "Wren"):
                _say(bench, clock, f"person {person}", str(HANDOVER))
        newer = Path(place) / "engine.yaml"
        newer.write_text(f"{ENGINE.read_text('utf-8')}\n# newer\n", "utf-8")
        clock.advance(45)
        revise(folder, (newer,), reason="newer", owner=killing.OWNER, moment=clock())
        with Bench.open(folder, owner=killing.OWNER, clock=clock, fresh=True) as bench:
            kinds = {record.kind for record in bench.records}
            if missing := KINDS - kinds:
                raise SystemExit(f"no event of these kinds: {sorted(missing)}")
            told = {
                "digest": bench.journal.digest,
                "kinds": sorted(kinds),
                "records": len(bench.records),
                "state": summary(bench.state),
            }
        RELEASES.mkdir(exist_ok=True)
        backup(folder, RELEASES / f"{version}.snugset")
    text = json.dumps(told, indent=1, ensure_ascii=False)
    (RELEASES / f"{version}.json").write_text(f"{text}\n", "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
