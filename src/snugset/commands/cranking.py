"""Setting points of an engine, for the command."""

from decimal import Decimal
from pathlib import Path

from snugset import shipped
from snugset.commands.beginning import meant
from snugset.commands.declare import CommandError, Given, MistakesError, UsageError
from snugset.commands.output import say, say_json
from snugset.commands.published import check
from snugset.files.engine import Engine, read_engine
from snugset.files.problems import Problems, all_of
from snugset.files.whole import read_whole
from snugset.guide.kinds.crank import as_planned, rim_words
from snugset.guide.kinds.turn import window_words
from snugset.opening import pin
from snugset.trade.camshaft import THIN, Events, companions, is_even
from snugset.trade.circle import plain
from snugset.trade.points import Method, Point, PointsError, setting_points
from snugset.trade.standing import describe
from snugset.units import Quantity, UnitError, read

_WAYS: dict[str, Method] = {
    "camshaft": "camshaft",
    "firing-order": "firing-order",
    "valve-by-valve": "valve-by-valve",
}
_BY = {
    "camshaft": "From the camshaft card: the fewest points that reach everything.",
    "firing-order": "Each cylinder at its own compression dead centre.",
    "valve-by-valve": (
        "Valve by valve: an intake as its exhaust starts to open, an exhaust as its intake has "
        "nearly closed."
    ),
}


def crank(given: Given) -> int:
    """Show the setting points, or judge a list; the exit code."""
    engine = engine_at(given.one("ENGINE"))
    margin = _margin(given.one("--margin"))
    events = events_of(engine)
    if given.has("--list"):
        if events is None:
            raise CommandError(
                f"{engine.name} has no camshaft card, and without one no list can be judged; "
                "write camshaft: IVO 12 IVC 48 EVO 52 EVC 10 at seat, with your card's figures, "
                "into the engine file"
            )
        return check(Path(given.one("--list")), engine, events, margin, json=given.has("--json"))
    method = _WAYS[given.one("--method", "camshaft" if events else "firing-order")]
    try:
        points = setting_points(
            method,
            engine.firing_order,
            engine.intervals,
            bridged=engine.rockers == "bridged",
            events=events,
            marks=engine.marks,
            margin=margin,
            prefer_down=given.has("--filled"),
        )
    except PointsError as error:
        raise CommandError(str(error)) from error
    if given.has("--json"):
        say_json(_as_json(engine, events, method, points))
    else:
        _show(engine, events, method, points)
    return 0


def engine_at(text: str) -> Engine:
    """Read the engine that is named: a file, or one that comes with the program."""
    path = meant("engine", text, shipped.engines())
    pinned, into = pin(path, str(path)), Problems()
    engine = read_whole(pinned.text, pinned.file, read_engine, into)
    if engine is None:
        raise MistakesError(into.items)
    return engine


def _margin(text: str) -> Decimal:
    if not text:
        return THIN
    low, high = Quantity(Decimal(0), "deg"), Quantity(Decimal(180), "deg")
    try:
        return read(text, unit="deg", kind="angle", band=(low, high)).in_("deg")
    except UnitError as error:
        raise UsageError(f"--margin: {error.message}") from error


def events_of(engine: Engine) -> Events | None:
    """Give the engine's camshaft card, or None."""
    card = engine.camshaft
    if card is None:
        return None
    return Events(ivo=card.ivo, ivc=card.ivc, evo=card.evo, evc=card.evc, lift=card.lift)


def _show(engine: Engine, events: Events | None, method: str, points: tuple[Point, ...]) -> None:
    order = "-".join(map(str, engine.firing_order))
    say(f"{engine.name}: firing order {order}; turn {engine.running}, seen from the front.")
    if engine.camshaft is not None:
        say(f"Camshaft: {engine.camshaft}")
    say(_BY[method])
    for point in points:
        margin = "" if point.margin is None else f"; margin {plain(point.margin)}°"
        say("", f"{point.key}  {_places(engine, point)}")
        say(f"    {window_words(as_planned(point))}{margin}")
        if point.margin is not None and point.margin < THIN:
            say(f"    Careful: the margin is under {plain(THIN)}°.")
        if engine.damper is not None:
            say(f"    {rim_words(engine.damper, point.aim, engine.marks)}")
        say(*(f"    {words}" for words in _standing(engine, events, point).values()))
    pairs: dict[frozenset[int], str] = {}
    for one, other in _companions(engine).items():
        pairs.setdefault(frozenset((one, other)), f"{one} and {other}")
    told = "; ".join(pairs.values())
    alone = "an odd number of cylinders" if is_even(engine.intervals) else "the firing is uneven"
    say("", f"Companions: {told}." if told else f"No companions: {alone}.")


def _companions(engine: Engine) -> dict[int, int]:
    return companions(engine.firing_order, engine.intervals)


def _places(engine: Engine, point: Point) -> str:
    if engine.rockers != "bridged":
        return f"{'valves' if len(point.places) > 1 else 'valve'} {', '.join(point.places)}"
    return f"{'bridges' if len(point.places) > 1 else 'bridge'} {all_of(point.places)}"


def _standing(engine: Engine, events: Events | None, point: Point) -> dict[int, str]:
    """Say how each cylinder that is set at a point stands at its aim."""
    cylinders = dict.fromkeys(int(place.rstrip("IE")) for place in point.places)
    return {
        one: describe(point.aim, one, engine.firing_order, engine.intervals, events)
        for one in cylinders
    }


def _as_json(
    engine: Engine, events: Events | None, method: str, points: tuple[Point, ...]
) -> dict[str, object]:
    return {
        "engine": engine.name,
        "method": method,
        "firing_order": engine.firing_order,
        "running": engine.running,
        "camshaft": None if engine.camshaft is None else str(engine.camshaft),
        "points": [
            {
                "key": point.key,
                "places": point.places,
                "low": point.low,
                "high": point.high,
                "aim": point.aim,
                "margin": point.margin,
                "turn": point.turn,
                "marked": point.marked,
                "rim": None
                if engine.damper is None
                else rim_words(engine.damper, point.aim, engine.marks),
                "cylinders": _standing(engine, events, point),
            }
            for point in points
        ],
        "companions": _companions(engine),
    }
