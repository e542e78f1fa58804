"""The calculators by what they are for, found by typing."""

from typing import Protocol, cast

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from snugset.screens.base import Base, Field, Plain
from snugset.screens.desk import Desk
from snugset.screens.doors import Doors
from snugset.screens.words import short, text
from snugset.trade.calculator import Calculator
from snugset.trade.calculators import CALCULATORS, GROUPS

_NAME = 15
"""Cells that the name takes."""


class Kept(Protocol):
    """What these screens need of the application."""

    forms: dict[str, dict[str, str]]
    """What is typed in each form, until Snugset is left."""
    doors: Doors
    screen_stack: list[Screen[object]]


def kept(screen: Base) -> Kept:
    """Give the application as these screens know it."""
    return cast("Kept", screen.app)


def found(words: str) -> dict[str, list[Calculator]]:
    """Give the calculators, by group, that have every word somewhere in what they say."""
    wanted = words.lower().split()
    groups = {
        group: [one for one in some if all(word in _told(group, one) for word in wanted)]
        for group, some in GROUPS.items()
    }
    return {group: some for group, some in groups.items() if some}


def _told(group: str, one: Calculator) -> str:
    asked = (word for each in one.inputs for word in (each.key, each.words))
    given = (word for each in one.outputs for word in (each.key, each.words))
    return " ".join((group, one.name, one.words, *asked, *given)).lower()


def row(one: Calculator, width: int) -> Content:
    """Give a calculator in a line of so many cells; the marked one is told whole below."""
    return text(f"  {one.name:<12} ", "bold").append(text(short(one.words, width - _NAME)))


class CalculatorsScreen(Base):
    """All of them; typing leaves those that have the words."""

    NAME = "calculators"

    def __init__(self, desk: Desk | None) -> None:
        super().__init__()
        self.desk = desk

    def body(self) -> ComposeResult:
        """Give the search and the list."""
        yield Field(id="find", placeholder="type to find one: torque, shim, lash …")
        yield OptionList(id="calculators", classes="list", markup=False)
        yield Plain("message")

    def on_mount(self) -> None:
        """Fill the list."""
        self.query_one("#where", Plain).put(f"Calculators · {len(CALCULATORS)}")
        self._fill("")
        self.query_one("#find", Input).focus()

    def on_resize(self, event: events.Resize) -> None:
        """Cut the lines to the width."""
        super().on_resize(event)
        self._fill(self.query_one("#find", Input).value)

    def on_screen_resume(self) -> None:
        """Take typing again."""
        self.query_one("#find", Input).focus()

    def _fill(self, words: str) -> None:
        groups, width = found(words), self.size.width - 2
        options = []
        for group, some in groups.items():
            options.append(Option(text(group, "bold $secondary"), disabled=True))
            options += [Option(row(one, width), id=one.name) for one in some]
        shown = self.query_one(OptionList)
        marked = shown.highlighted_option.id if shown.highlighted_option else ""
        shown.set_options(options)
        names = [one.name for some in groups.values() for one in some]
        # The one with that very name is meant, wherever it stands.
        named = [n for n in names if words.strip() and n.startswith(words.strip().lower())]
        if named or marked not in names:
            marked = next(iter([*named, *names]), "")
        shown.highlighted = shown.get_option_index(marked) if marked else None
        if not names:
            none = "No calculator has these words. Esc empties the search."
            self.query_one("#message", Plain).put(text(none, "bold $warning"))

    def on_input_changed(self, event: Input.Changed) -> None:
        """Leave those that have the words."""
        self._fill(event.value)

    def on_input_submitted(self) -> None:
        """Open the marked one."""
        self.action_open()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell the marked one whole."""
        if event.option.id:
            one = CALCULATORS[event.option.id]
            self.query_one("#message", Plain).put(f"{one.words[:1].upper()}{one.words[1:]}.")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Open the one that was chosen."""
        self._open(event.option.id or "")

    def action_open(self) -> None:
        """Open the marked calculator."""
        marked = self.query_one(OptionList).highlighted_option
        if marked is not None and marked.id:
            self._open(marked.id)

    def _open(self, name: str) -> None:
        from snugset.screens.figure import FigureScreen  # noqa: PLC0415 - loaded when asked for

        self.app.push_screen(FigureScreen(CALCULATORS[name], self.desk))

    def action_lower(self) -> None:
        """Mark the next one."""
        self.query_one(OptionList).action_cursor_down()

    def action_upper(self) -> None:
        """Mark the one before."""
        self.query_one(OptionList).action_cursor_up()

    def action_leave(self) -> None:
        """Empty the search; with nothing typed go back."""
        find = self.query_one("#find", Input)
        if find.value:
            find.value = ""
        else:
            self.app.pop_screen()

    def action_place(self) -> None:
        """Go back to where the calculators were opened."""
        self.app.pop_screen()
