"""figure: one calculator from the shell."""

from snugset.commands.declare import JSON, Argument, Command, Given, Place


def _run(given: Given, _place: Place) -> int:
    from snugset.commands import figuring  # noqa: PLC0415 - loads the calculators

    if not given.has("NAME"):
        figuring.listing()
    else:
        figuring.work_out(given)
    return 0


def _helps(given: Given) -> bool:
    if not given.has("NAME"):
        return False
    from snugset.commands import figuring  # noqa: PLC0415

    figuring.explain(given.one("NAME"))
    return True


COMMAND = Command(
    "figure",
    "one calculation of the trade, with its working; alone it lists them all",
    _run,
    (
        Argument("NAME", "the calculator"),
        Argument("KEY=VALUE", "what it asks for, each in quotes if it holds a space", many=True),
        JSON,
        Argument("--units", "the system that results are shown in", choices=("inch", "metric")),
    ),
    notes=(
        "Keys, units and a worked example: snugset figure NAME --help. A figure without a unit "
        "takes the key's own. Exit 2 for what cannot be worked out."
    ),
    examples=('snugset figure preload "takes=17+18 thou; 18+18 thou" "window=30..40 thou"',),
    helps=_helps,
)
