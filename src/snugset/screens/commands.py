"""Every command of the screens, declared once: key, footer, palette and help come from here."""

from dataclasses import dataclass

from textual.binding import Binding


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One command on some screens."""

    name: str
    """The screen's method is ``action_`` and this name."""
    key: str
    shown: str
    """The key as the footer shows it."""
    footer: str
    help: str
    screens: tuple[str, ...]
    footed: bool = True
    """Whether it stands in the footer; the others are in help and palette only."""
    priority: bool = False
    """Whether it comes before the field that is typed in."""

    def binding(self) -> Binding:
        """Give it as the screen library wants it."""
        return Binding(
            self.key,
            self.name,
            self.footer,
            key_display=self.shown,
            show=self.footed,
            priority=self.priority,
        )


EVERYWHERE = ("builds", "bench", "specs", "history", "new", "help")
COMMANDS: tuple[Command, ...] = (
    Command(
        name="why",
        key="f2",
        shown="F2",
        footer="why",
        help="Why this step is done, its cautions and tools, in full.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="back",
        key="f3",
        shown="F3",
        footer="back",
        help="Takes back the newest answer: the record, not the engine.",
        screens=("bench", "history"),
        priority=True,
    ),
    Command(
        name="note",
        key="f4",
        shown="F4",
        footer="note",
        help="Begins a note at this step; it stands on the build sheet.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="skip",
        key="f5",
        shown="F5",
        footer="skip",
        help="Leaves this step undone, with the reason that is typed.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="override",
        key="f6",
        shown="F6",
        footer="because",
        help="Goes on against the rule that just stopped the answer, with a reason.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="view",
        key="f7",
        shown="F7",
        footer="view",
        help="The next view beside the prompt: map, crank, ledger, list.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="specs",
        key="f8",
        shown="F8",
        footer="specs",
        help="The spec sheet: every figure with its source; one can be given again.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="history",
        key="f9",
        shown="F9",
        footer="past",
        help="Every answer, who gave it and when.",
        screens=("bench",),
        priority=True,
    ),
    Command(
        name="arrived",
        key="f10",
        shown="F10",
        footer="arrived",
        help="The parts that were waited for are there.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
    Command(
        name="open",
        key="enter",
        shown="Enter",
        footer="go on with it",
        help="Opens the build, or the figure, that is marked.",
        screens=("builds", "specs"),
    ),
    Command(
        name="new",
        key="n",
        shown="N",
        footer="new build",
        help="Begins a build from a procedure and an engine file.",
        screens=("builds",),
    ),
    Command(
        name="demo",
        key="d",
        shown="D",
        footer="demo",
        help="Opens a part-finished demo build in a scratch folder.",
        screens=("builds",),
    ),
    Command(
        name="again",
        key="r",
        shown="R",
        footer="look again",
        help="Reads the list of builds again.",
        screens=("builds",),
    ),
    Command(
        name="leave",
        key="escape",
        shown="Esc",
        footer="leave",
        help="One screen back; the build stays where it is.",
        screens=("bench", "specs", "history", "new", "help"),
        footed=False,
        priority=True,
    ),
    Command(
        name="help",
        key="f1",
        shown="F1",
        footer="help",
        help="These keys, and what can be typed.",
        screens=("builds", "bench", "specs", "history", "new"),
        priority=True,
    ),
    Command(
        name="quit",
        key="ctrl+q",
        shown="^Q",
        footer="quit",
        help="Leaves Snugset; everything that was answered is on disk.",
        screens=EVERYWHERE,
        priority=True,
    ),
)


def of(screen: str) -> tuple[Command, ...]:
    """Give the commands of a screen, in the order of the footer."""
    return tuple(command for command in COMMANDS if screen in command.screens)


def bindings(screen: str) -> list[Binding]:
    """Give a screen's bindings."""
    return [command.binding() for command in of(screen)]


def footer(screen: str, width: int) -> str:
    """Give the footer's line, as many commands as fit, help and quit always."""
    shown = [c for c in of(screen) if c.footed]
    last = [c for c in shown if c.name in ("help", "quit")]
    rest = [c for c in shown if c.name not in ("help", "quit")]
    while rest and len(_line([*rest, *last], " ")) > width:
        rest.pop()
    wide = _line([*rest, *last], "   ")
    return wide if len(wide) <= width else _line([*rest, *last], " ")


def _line(commands: list[Command], between: str) -> str:
    return between.join(f"{c.shown} {c.footer}" for c in commands)
