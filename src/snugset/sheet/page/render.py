"""From a sheet to the text of a page: templates that escape whatever they are given."""

from base64 import b64encode
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from hashlib import sha256

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape
from markupsafe import Markup

from snugset.printable import counted
from snugset.sheet.contents import Sheet
from snugset.sheet.drawn import plain
from snugset.sheet.drawn.holes import hole_of
from snugset.sheet.page import figures, groups
from snugset.sheet.phrases import clock, crank, limits, listed, measured, spread, verdict
from snugset.sheet.readings import FLAGS
from snugset.trade.circle import wrap

_HOW = {
    "set-aside": "never stood",
    "replaced": "read again",
    "voided": "its step was opened again",
}

_SHOWN_MEDIA = ("image/jpeg", "image/png", "image/webp")
"""What every browser shows; a photograph of another kind is named only."""


def _seen(value: object) -> object:
    """Take out of every text what HTML forbids; what is markup was made here."""
    return plain(value) if isinstance(value, str) and not isinstance(value, Markup) else value


@cache
def _environment() -> Environment:
    """Make it once: reading the templates takes longer than filling them."""
    made = Environment(
        loader=PackageLoader("snugset.sheet.page", "templates"),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        finalize=_seen,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters |= {
        "clock": clock,
        "crank": crank,
        "number": Decimal,
        "listed": listed,
        "measured": measured,
        "verdict": verdict,
        "hole": hole_of,
    }
    made.globals |= {
        "counted": counted,
        "limits": limits,
        "spread": spread,
        "flags": FLAGS,
        "how": _HOW,
        "ledgers": groups.ledgers,
        "stage_heads": groups.stage_heads,
        "stage_at": groups.stage_at,
        "steps_of": groups.steps_of,
        "planned": groups.planned,
        "same": groups.same,
        "shown_media": _SHOWN_MEDIA,
        "wrap": wrap,
        "map_of": figures.map_of,
        "stages_of": figures.stages_of,
        "crank_of": figures.crank_of,
        "ledger_of": figures.ledger_of,
        "round_of": figures.round_of,
    }
    return made


def html(sheet: Sheet, attached: Mapping[str, bytes] | None = None) -> str:
    """Write a sheet as one HTML page that asks nobody for anything and runs nothing.

    `attached` holds the bytes of photographs by their SHA-256 digest in hex; one that is not there
    is named on the page only. The same sheet gives the same text.
    """
    made = _environment()
    style = made.get_template("style.css").render().strip()
    digest = b64encode(sha256(style.encode()).digest()).decode()
    return made.get_template("sheet.html").render(
        sheet=sheet,
        style=Markup(style),  # noqa: S704 - the page's own, without a text of anybody
        style_digest=digest,
        attached={key: b64encode(each).decode() for key, each in (attached or {}).items()},
    )
