"""One build in which every text that people type would act somewhere, were it obeyed."""

import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

from snugset.guide.events import Record
from snugset.values import replace

from .journals import forged
from .opened import demo_records

MARKUP = (
    "<script>document.title='owned';fetch('http://owned.invalid/a')</script>"
    "<img src=http://owned.invalid/b onerror=\"document.title='owned'\">"
    "<svg onload=alert(1)><style>@import url(http://owned.invalid/c);</style>"
    "<a href=javascript:alert(1)>x</a>{{7*7}}{% raw %}![i](http://owned.invalid/d) [b][/red]"
)
CONTROLS = "\x1b]0;owned\x07\x1b[2J\x9b31m\x1b]52;c;b3duZWQ=\x07\x00\x7f\u202e\u2066\r\n\t"
EVIL = f"=1+1|{CONTROLS}{MARKUP}"
_TYPED = {
    *("typed", "source", "assumes", "reason", "text", "words", "what", "caption", "why", "value"),
    *("last_person", "from", "to", "method", "flag"),
}
_LISTED = ("advice", "working", "words", "loose")
_SAID = {"cam-run-in"}
"""Figures that are words of the builder's own."""
_PHOTOGRAPH = b"\x89PNG\r\n\x1a\n a photograph"


def _spoiled(body: Any, kind: str) -> Any:  # noqa: ANN401 - plain JSON
    found = json.loads(json.dumps(body))
    for name, value in found.items():
        said = name != "value" or kind == "skipped" or body.get("name") in _SAID
        if name in _TYPED and isinstance(value, str) and said:
            found[name] = EVIL
        elif name in _LISTED and isinstance(value, list):
            found[name] = [EVIL for _ in value]
    return found


def _told() -> Iterator[Record]:
    """Give the demo's records, and in front of the last what the demo has not.

    Somebody else goes on, and a photograph has a caption.
    """
    *most, last = demo_records()
    digest = sha256(_PHOTOGRAPH).hexdigest()
    more: tuple[tuple[str, dict[str, Any]], ...] = (
        ("handover", {"at": "manual", "from": "Wren", "to": "Ada"}),
        (
            "photograph",
            {
                "at": "manual",
                "caption": "x",
                "size": len(_PHOTOGRAPH),
                "name": f"{digest}.png",
                "digest": digest,
                "media": "image/png",
            },
        ),
    )
    yield from most
    for number, (kind, body) in enumerate(more, last.sequence):
        yield replace(last, sequence=number, answer=last.answer + number, kind=kind, body=body)
    number = last.sequence + len(more)
    yield replace(last, sequence=number, answer=last.answer + number + 1)


def evil_records() -> list[Record]:
    """Give such records with hostile words wherever somebody's words are kept."""
    found = []
    for record in _told():
        body = record.body
        if record.kind == "begun":
            body = json.loads(json.dumps(body))
            body["name"] = EVIL
            text = body["engine"]["text"]
            named = next(line for line in text.split("\n") if line.startswith("name:"))
            quoted = json.dumps(MARKUP[:110])
            body["engine"]["text"] = text.replace(named, f"name: {quoted}", 1)
            for pinned in (body["engine"], body["procedure"], *body["shared"].values()):
                pinned["file"] += EVIL
        elif record.kind not in ("done", "judged", "revised"):
            body = _spoiled(body, record.kind)
        found.append(replace(record, body=body, person=EVIL))
    return found


def evil_build(data: Path) -> Path:
    """Write that build into a data folder."""
    records = evil_records()
    folder = forged(data / "builds" / "evil", records, name=EVIL)
    name = next(record.body["name"] for record in records if record.kind == "photograph")
    (folder / "attachments" / name).write_bytes(_PHOTOGRAPH)
    return folder


def cut_builds(data: Path) -> None:
    """Write builds that stand in the middle of it: ``evil-ADDRESS`` where it is no finished one."""
    records = evil_records()
    for name, kind, at in (("evil-gap", "reading", "gap@4I#1"), ("evil-wait", "waiting", "post#1")):
        stop = next(
            number
            for number, record in enumerate(records)
            if record.kind == kind and record.body["at"] == at
        )
        forged(data / "builds" / name, records[: stop + 1], name=EVIL)
