"""Beginning a build: procedure, engine, spec sheet, name."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input

from snugset.screens.base import Base, Plain
from snugset.screens.builds import app_of

FIELDS = (
    ("procedure", "Procedure: a path, or inline-six-bridged-hydraulic"),
    ("engine", "Engine file: a path"),
    ("specs", "Spec sheet file: a path, or leave it empty and be asked"),
    ("name", "What this build is called"),
)


class NewScreen(Base):
    """A form of four fields; Enter goes to the next, and from the last begins."""

    NAME = "new"

    def body(self) -> ComposeResult:
        """Give the fields."""
        with VerticalScroll(classes="form", can_focus=False):
            for name, words in FIELDS:
                yield Plain(f"ask-{name}")
                yield Input(id=name, placeholder=words)
        yield Plain("message")

    def on_mount(self) -> None:
        """Write the questions."""
        self.query_one("#where", Plain).put("A new build · Enter goes on, Esc leaves")
        for name, words in FIELDS:
            self.query_one(f"#ask-{name}", Plain).put(words)
        self.query_one("#procedure", Input).value = "inline-six-bridged-hydraulic"
        self.query_one("#engine", Input).focus()

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Go to the next field, or begin."""
        names = [name for name, _ in FIELDS]
        at = names.index(event.input.id or names[0])
        if at + 1 < len(names):
            self.query_one(f"#{names[at + 1]}", Input).focus()
            return
        values = [self.query_one(f"#{name}", Input).value.strip() for name in names]
        app = app_of(self)
        wrong = await app.open_new(*values)
        self.query_one("#message", Plain).put(wrong)
