"""One build in which every text that people type would act somewhere, were it obeyed."""

import json
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
    "typed",
    "source",
    "assumes",
    "reason",
    "text",
    "words",
    "what",
    "caption",
    "why",
    "value",
}


def _spoiled(body: Any, kind: str) -> Any:  # noqa: ANN401 - plain JSON
    found = json.loads(json.dumps(body))
    for name, value in found.items():
        if name in _TYPED and isinstance(value, str) and (name != "value" or kind == "skipped"):
            found[name] = EVIL
        elif name in ("advice", "working", "words") and isinstance(value, list):
            found[name] = [EVIL for _ in value]
    return found


def evil_records() -> list[Record]:
    """Give the demo's records with hostile words wherever somebody's words are kept."""
    found = []
    for record in demo_records():
        body = record.body
        if record.kind == "begun":
            body = json.loads(json.dumps(body))
            body["name"] = EVIL
            text = body["engine"]["text"]
            named = next(line for line in text.split("\n") if line.startswith("name:"))
            quoted = json.dumps(MARKUP[:110])
            body["engine"]["text"] = text.replace(named, f"name: {quoted}", 1)
        elif record.kind not in ("done", "judged", "revised"):
            body = _spoiled(body, record.kind)
        found.append(replace(record, body=body, person=EVIL))
    return found


def evil_build(data: Path) -> Path:
    """Write that build into a data folder."""
    builds = data / "builds"
    builds.mkdir(parents=True)
    return forged(builds / "evil", evil_records(), name=EVIL)
