"""The keys of a screen, and what can be typed."""

from textwrap import wrap

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from snugset.plain.aside import HELP
from snugset.screens import commands
from snugset.screens.base import Base, Plain
from snugset.screens.words import text

_KEY = 8
_WIDTH = 72
"""Cells; what the narrowest screen has for it."""
_TYPED = "What can be typed at the bench:"


def words(screen: str) -> list[str]:
    """Give the help of a screen, a line each."""
    keys = [
        line
        for command in commands.of(screen)
        for line in wrap(
            command.help,
            _WIDTH,
            initial_indent=f"{command.shown:<{_KEY}}",
            subsequent_indent=" " * _KEY,
        )
    ]
    typed = ["", _TYPED, "", *HELP.splitlines()] if screen == "bench" else []
    return [*keys, *typed]


class Help(Base):
    """Help for the screen that it was asked on."""

    NAME = "help"

    def __init__(self, about: str) -> None:
        super().__init__()
        self.about = about

    def body(self) -> ComposeResult:
        """Give the keys and the words."""
        with VerticalScroll(id="scroll"):
            yield Plain("help")

    def on_mount(self) -> None:
        """Write them."""
        self.query_one("#where", Plain).put(f"Help · {self.about} · arrows and PgDn go on")
        self.query_one("#help", Plain).put(text("\n".join(words(self.about))))
        self.query_one("#scroll").focus()
