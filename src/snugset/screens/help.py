"""The keys of a screen, and what can be typed."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from snugset.plain import HELP
from snugset.screens import commands
from snugset.screens.base import Base, Plain


class Help(Base):
    """Help for the screen that it was asked on."""

    NAME = "help"

    def __init__(self, about: str) -> None:
        super().__init__()
        self.about = about

    def body(self) -> ComposeResult:
        """Give the keys and the words."""
        with VerticalScroll():
            yield Plain("help")

    def on_mount(self) -> None:
        """Write them."""
        self.query_one("#where", Plain).put(f"Help: {self.about}")
        keys = [f"{c.shown:<6} {c.footer:<16} {c.help}" for c in commands.of(self.about)]
        typed = ["", "What can be typed at the bench:", *HELP.splitlines()]
        self.query_one("#help", Plain).put(
            "\n".join(keys + (typed if self.about == "bench" else []))
        )
