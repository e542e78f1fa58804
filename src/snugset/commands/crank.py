"""crank: setting points, or the margin of somebody's published list."""

from snugset.commands.declare import JSON, Argument, Command, Given, Place


def _run(given: Given, _place: Place) -> int:
    from snugset.commands import cranking  # noqa: PLC0415 - loads files and the trade

    return cranking.crank(given)


COMMAND = Command(
    "crank",
    "where to stop the crank and which valves are set there, or the margins of a list",
    _run,
    (
        Argument("ENGINE", "an engine file, or the name of one that is shipped", needed=True),
        Argument("--list", "a published list to hold against the camshaft card", value="FILE"),
        Argument(
            "--method",
            "camshaft, firing-order or valve-by-valve; camshaft where the engine file has a card",
            value="WAY",
            choices=("camshaft", "firing-order", "valve-by-valve"),
        ),
        Argument("--margin", "the least degrees a valve stays clear; 20 without", value="DEG"),
        Argument("--filled", "lifters full of oil: points with those pistons well down"),
        JSON,
    ),
    notes=(
        "Angles are degrees past number one's compression dead centre, 0 to 720, in the running "
        "direction. A list has a line for each position: the angle, a colon, and the valves that "
        "are set there, or a cylinder's number for both of its valves:\n"
        "  0: 1I 1E 2I 4I\n"
        "  360: 3 4E\n"
        "Every valve of it is shown with its margin. Exit 1 if a valve may be open there, is "
        "never set, or is parted from its partner on a rocker bridge; under the least margin it "
        "is a warning."
    ),
)
