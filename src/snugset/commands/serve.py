"""serve: the full screen in a browser, on the bench tablet."""

import gc
import sys

from snugset.commands.declare import PERSON, Argument, Command, CommandError, Given, Place
from snugset.commands.failing import told
from snugset.commands.output import say

_HOST = "127.0.0.1"
_PORT = 8427
_SESSIONS = 4
_HIGHEST_PORT = 65535
_MOST_SESSIONS = 32
_EXTRA = ("aiohttp", "textual_serve")


def _run(given: Given, place: Place) -> int:
    host = given.one("--host", _HOST)
    port = _number(given, "--port", _PORT, 0, _HIGHEST_PORT)
    sessions = _number(given, "--sessions", _SESSIONS, 1, _MOST_SESSIONS)
    try:
        from snugset.serving.run import serve  # noqa: PLC0415 - the extra may not be there
    except ModuleNotFoundError as missing:
        if (missing.name or "").split(".")[0] not in _EXTRA:
            raise
        raise CommandError(
            "serve needs an extra that is not installed; in the folder that Snugset was installed "
            f"from: {sys.executable} -m pip install '.[serve]'"
        ) from None
    from snugset.commands import served, sitting, who  # noqa: PLC0415 - as above

    sitting.warn_of_network(place)
    person = who.owner(given, place.environ).person

    def show(line: str) -> None:
        say(line)
        sys.stdout.flush()

    gc.enable()  # it stays for days
    try:
        serve(
            served.argv(place, person),
            host=host,
            port=port,
            sessions=sessions,
            paired=given.has("--pair"),
            show=show,
            fault=lambda error: told(error, place),
        )
    except (OSError, UnicodeError) as wrong:
        why = getattr(wrong, "strerror", None) or "it is no name of a machine"
        raise CommandError(
            f"{host}, port {port} cannot be listened on ({why}); give another: --host, --port"
        ) from None
    return 0


def _number(given: Given, name: str, default: int, low: int, high: int) -> int:
    text = given.one(name, str(default))
    if text.isascii() and text.isdigit() and low <= int(text[:9]) <= high:
        return int(text)
    raise CommandError(f"{name} takes a whole number from {low} to {high}")


COMMAND = Command(
    "serve",
    "shows the full screen in a browser, on a tablet at the bench",
    _run,
    (
        Argument("--host", f"the address to listen on; {_HOST} without", value="ADDRESS"),
        Argument("--port", f"its port; {_PORT} without", value="N"),
        Argument("--sessions", f"most screens open at once; {_SESSIONS} without", value="N"),
        Argument("--pair", "ask for a code on this machine too"),
        PERSON,
    ),
    notes=(
        "Without --host only this machine can reach it. On another address each device must be "
        "paired, with a code that is shown here. Nothing is encrypted: use a network that you "
        "trust. docs/serve.md says what that does and does not do."
    ),
    examples=("snugset serve --host 192.0.2.20",),
)
