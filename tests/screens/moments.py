"""The moments that pictures are of: every screen of the program, and what matters on it."""

from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, contextmanager
from dataclasses import dataclass

from snugset.bench import Bench
from snugset.journal.owner import Owner
from snugset.screens.app import SnugsetApp

from .shed import away, shed
from .stage import Player, Stage, playing

ASH = Owner(person="Ash", host="barn", pid=7, since="2026-03-06T17:40:00Z")
"""Who else works there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """What is on the screen, and how one comes to it."""

    screen: str
    """The class that is shown."""
    at: str = ""
    """Where the build stands; empty for a shelf with none."""
    keys: tuple[str, ...] = ()
    hours: float = 0
    """How long the builder was away."""
    elsewhere: bool = False
    """Whether another program has the build open; the list of builds is shown first."""


def _bench(at: str, *keys: str, hours: float = 0) -> Moment:
    return Moment(screen="BenchScreen", at=at, keys=keys, hours=hours)


_NUT, _GAP = "head-tighten@2.3", "gap@2E#1"
MOMENTS: dict[str, Moment] = {
    "tick": _bench("battery", "f2"),
    "tighten": _bench(_NUT),
    "far": _bench(_NUT, "f12"),
    "count": _bench(_NUT, *"stage 5"),
    "steps": _bench(_NUT, "f7", "f7", "f7"),
    "undo": _bench(_NUT, "f3"),
    "return": _bench(_NUT, hours=9),
    "crank": _bench("points.turn@P2#1"),
    "unknown": _bench("number-one"),
    "refused": _bench("number-one", "2"),
    "gap": _bench(_GAP, *"20+10;20+10"),
    "order": _bench("lengths#1"),
    "wait": _bench("post#1"),
    "rounds": _bench("gap@3I#2", "f7", *"20+20;20+21"),
    "finished": _bench(""),
    "spec": _bench("spec.cover-torque", *"6"),
    "working": Moment(screen="WorkingScreen", at=_GAP, keys=(*"20+10;20+10", "ctrl+e")),
    "help": Moment(screen="Help", at=_GAP, keys=("f1",)),
    "palette": Moment(screen="CommandPalette", at=_GAP, keys=("ctrl+p", "down")),
    "sheet": Moment(screen="SpecsScreen", at=_GAP, keys=("f8", "down")),
    "form": Moment(screen="SpecsScreen", at="battery", keys=("f8", "enter")),
    "fill": Moment(screen="FileScreen", at=_GAP, keys=("f8", "f2", *"no.yaml", "enter")),
    "save": Moment(screen="FileScreen", at=_GAP, keys=("f8", "f3")),
    "history": Moment(screen="HistoryScreen", at=_GAP, keys=("f9", "f3")),
    "taken-back": Moment(screen="HistoryScreen", at=_GAP, keys=("f9", "f3", "f3")),
    "calculators": Moment(screen="CalculatorsScreen", at=_GAP, keys=("ctrl+f", "down")),
    "figure": Moment(screen="FigureScreen", at=_GAP, keys=("ctrl+f", *"prel", "enter", "down")),
    "mistyped": Moment(screen="FigureScreen", at=_GAP, keys=("ctrl+f", *"clamp", "enter", *"x")),
    "order-list": Moment(screen="OrderScreen", at="post#1", keys=("ctrl+o",)),
    "copy": Moment(screen="CopyScreen", at=_GAP, keys=("ctrl+n", *"/no/x", "enter")),
    "builds": Moment(screen="BuildsScreen", at=_GAP, keys=("escape",)),
    "no-builds": Moment(screen="BuildsScreen"),
    "new": Moment(screen="NewScreen", keys=("n",)),
    "held": Moment(screen="BuildsScreen", at=_NUT, keys=("enter",), elsewhere=True),
    "follow": Moment(screen="FollowScreen", at=_NUT, keys=("f",), elsewhere=True),
}


def _app(there: Stage, moment: Moment) -> SnugsetApp:
    if moment.screen in ("BuildsScreen", "NewScreen") and not moment.at:
        return there.app()
    told = shed(moment.at)
    if moment.hours:
        away(told, hours=moment.hours)
    folder = there.put(told, "shed")
    return there.app(None if moment.elsewhere else there.opening(folder))


@contextmanager
def _held(there: Stage, moment: Moment) -> Iterator[None]:
    """Hold the build as another program does, where the moment has it so."""
    if not moment.elsewhere:
        yield
        return
    with Bench.open(there.shelf.path / "shed", owner=ASH, clock=there.clock, fresh=True):
        yield


@asynccontextmanager
async def shown(there: Stage, moment: Moment, look: str = "") -> AsyncIterator[Player]:
    """Play up to a moment at 80x24, in a look."""
    app = _app(there, moment)
    with _held(there, moment):
        async with playing(app) as player:
            if look:
                app.theme = look
                await player.settled()
            await player.press(*("space" if key == " " else key for key in moment.keys))
            assert type(app.screen).__name__ == moment.screen, app.screen
            yield player


async def resized(player: Player, size: tuple[int, int]) -> None:
    """Give the terminal another size."""
    if player.app.size != size:
        await player.pilot.resize_terminal(*size)
        await player.settled()
