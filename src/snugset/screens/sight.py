"""The commands of how the bench is seen, and of the terminal under it."""

from snugset.screens.command import EVERYWHERE, Command

SIGHT: tuple[Command, ...] = (
    Command(
        name="stage",
        key="f11",
        shown="F11",
        footer="stage",
        palette="Whole stage: count what is done",
        help="Begins a count: stage 5 says that five of this stage are done, stage alone all.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="far",
        key="f12",
        shown="F12",
        footer="far",
        palette="Seen from afar",
        help="The prompt alone in letters for a metre away, and back; kept until Snugset is left.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="suspend",
        key="ctrl+z",
        shown="^Z",
        footer="to the shell",
        palette="To the shell; fg comes back",
        help="Back to the shell that started Snugset; fg there goes on. Everything is on disk.",
        screens=EVERYWHERE,
        footed=False,
        priority=True,
    ),
)
