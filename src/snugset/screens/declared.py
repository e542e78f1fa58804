"""Every command of the screens, declared once."""

from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One command on some screens."""

    name: str
    """The screen's method is ``action_`` and this name."""
    key: str
    shown: str
    """The key as the footer and the help show it."""
    footer: str
    palette: str
    """What the command palette calls it."""
    help: str
    screens: tuple[str, ...]
    footed: bool = True
    """Whether it stands in the footer; the others are in help and palette only."""
    priority: bool = False
    """Whether it comes before the field that is typed in."""


EVERYWHERE = ("builds", "bench", "specs", "history", "new", "help")

COMMANDS: tuple[Command, ...] = (
    Command(
        name="why",
        key="f2",
        shown="F2",
        footer="why",
        palette="Why this step",
        help="Why this step is done, its cautions and its tools.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="back",
        key="f3",
        shown="F3",
        footer="back",
        palette="Take back the newest answer",
        help="Takes back the newest answer: the record, not the engine.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="back",
        key="f3",
        shown="F3",
        footer="take back",
        palette="Take back the newest answer",
        help="Says what follows from taking back the newest answer; again takes it back.",
        screens=("history",),
        priority=True,
    ),
    Command(
        name="note",
        key="f4",
        shown="F4",
        footer="note",
        palette="Note",
        help="Begins a note at this step; it stands on the build sheet.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="skip",
        key="f5",
        shown="F5",
        footer="skip",
        palette="Skip this step",
        help="Leaves this step undone, with the reason that is typed.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="override",
        key="f6",
        shown="F6",
        footer="because",
        palette="Go on against the rule, because …",
        help="Goes on against the rule that just stopped the answer, with a reason.",
        screens=("bench", "specs"),
        footed=False,
        priority=True,
    ),
    Command(
        name="view",
        key="f7",
        shown="F7",
        footer="view",
        palette="The next view",
        help="The next view beside the prompt: map, crank, ledger, list.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="specs",
        key="f8",
        shown="F8",
        footer="specs",
        palette="Spec sheet",
        help="The spec sheet: every figure with its source; one can be given again.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="history",
        key="f9",
        shown="F9",
        footer="past",
        palette="History",
        help="Every answer, who gave it and when.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="arrived",
        key="f10",
        shown="F10",
        footer="arrived",
        palette="It has arrived: the wait is over",
        help="The parts that were waited for are there, or the wait is over.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="down",
        key="pagedown",
        shown="PgDn",
        footer="more",
        palette="More of this text",
        help="The rest of a prompt, or of what was said, that does not fit.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="up",
        key="pageup",
        shown="PgUp",
        footer="back up",
        palette="Back to the beginning of this text",
        help="Back to the beginning of the text.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="open",
        key="enter",
        shown="Enter",
        footer="go on with it",
        palette="Go on with the marked build",
        help="Opens the build that is marked, where it stands.",
        screens=("builds",),
    ),
    Command(
        name="open",
        key="enter",
        shown="Enter",
        footer="give it again",
        palette="Give the marked figure again",
        help="Gives the marked figure again; what was judged by the old one keeps its verdict.",
        screens=("specs",),
    ),
    Command(
        name="none",
        key="f5",
        shown="F5",
        footer="I don't have it",
        palette="I don't have that figure",
        help="Says that the marked figure is not to be had; what follows is said first.",
        screens=("specs",),
        priority=True,
    ),
    Command(
        name="open",
        key="enter",
        shown="Enter",
        footer="measure again",
        palette="Measure the marked reading again",
        help="At a reading: begins measuring that place again on the bench.",
        screens=("history",),
    ),
    Command(
        name="new",
        key="n",
        shown="N",
        footer="new build",
        palette="New build",
        help="Begins a build from a procedure and an engine file.",
        screens=("builds",),
    ),
    Command(
        name="demo",
        key="d",
        shown="D",
        footer="demo",
        palette="Demo build",
        help="Opens a part-finished demo build in a scratch folder.",
        screens=("builds",),
    ),
    Command(
        name="again",
        key="r",
        shown="R",
        footer="look again",
        palette="Look again",
        help="Reads the list of builds again.",
        screens=("builds",),
    ),
    Command(
        name="leave",
        key="escape",
        shown="Esc",
        footer="leave",
        palette="Leave this build",
        help="Empties the field; with nothing typed, leaves the build and lets it go.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="leave",
        key="escape",
        shown="Esc",
        footer="back",
        palette="Back to the screen before",
        help="One screen back.",
        screens=("specs", "history", "new", "help"),
        priority=True,
    ),
    Command(
        name="palette",
        key="ctrl+p",
        shown="^P",
        footer="commands",
        palette="Commands",
        help="Finds a command by its words, and the looks: dark, light, high contrast.",
        screens=EVERYWHERE,
        footed=False,
        priority=True,
    ),
    Command(
        name="help",
        key="f1",
        shown="F1",
        footer="help",
        palette="Help",
        help="These keys, and what can be typed.",
        screens=("builds", "bench", "specs", "history", "new"),
        priority=True,
    ),
    Command(
        name="quit",
        key="ctrl+q",
        shown="^Q",
        footer="quit",
        palette="Quit",
        help="Leaves Snugset; everything that was answered is on disk.",
        screens=EVERYWHERE,
        priority=True,
    ),
)
