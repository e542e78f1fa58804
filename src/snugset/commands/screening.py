"""The full screen, where the terminal has one: the builds, or the build that was asked for."""

import sys
from collections.abc import Mapping
from pathlib import Path

from snugset import shipped
from snugset.commands.declare import CommandError, Given, Place
from snugset.commands.output import say
from snugset.journal.owner import Owner
from snugset.journal.shelf import Entry, Shelf
from snugset.screens.doors import Doors, New, Opening, Start
from snugset.values import replace


def fits(given: Given, environ: Mapping[str, str]) -> bool:
    """Tell whether the full screen is wanted and the terminal can show it.

    The screen library draws on standard error, so that must be the terminal as well.
    """
    if given.has("--plain") or environ.get("TERM", "dumb") in ("", "dumb"):
        return False
    return all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr))


class Sitting:
    """One sitting at the full screen: what the screens ask for, and what was made on the way."""

    def __init__(self, place: Place, who: Owner) -> None:
        self.place = place
        self.who = who
        self.demos: list[Path] = []
        """The folders of the demo builds that were made."""

    def run(self, start: Start = None, head: Entry | None = None) -> None:
        """Show the screens until they are left, and say where what was made for show stands."""
        self.show(start, head)
        self._tell_of_demos()

    def show(
        self, start: Start = None, head: Entry | None = None, *, patience: float = 0.0
    ) -> None:
        """Show the screens until they are left; `patience` as the doors have it."""
        from snugset.screens.running import run  # noqa: PLC0415 - loads the screen library

        doors = Doors(
            shelf=Shelf(self.place.data),
            person=self.who.person,
            demo=self.demo,
            begin=self.begin,
            procedures=tuple(shipped.procedures()),
            engines=tuple(shipped.engines()),
            patience=patience,
            known=known,
        )
        run(doors, start, head)

    def demo(self) -> Opening:
        """Make a demo build in a scratch folder."""
        from snugset.commands import demonstrating  # noqa: PLC0415 - it needs this module

        folder = demonstrating.make()
        self.demos.append(folder)
        return Opening(
            folder=folder,
            clock=demonstrating.going_on(folder),
            fresh=True,
            note=f"A demo build, in {folder.parent.parent}: nothing of yours is touched. "
            f"Try 40+38; 40+40 (two takes, in thousandths of an inch).",
        )

    def begin(self, new: New) -> Opening:
        """Begin a build of the builder's own; ValueError says what is wrong, a line each."""
        from snugset.commands import beginning  # noqa: PLC0415 - it needs this module

        def path(text: str) -> str:
            # What a shell would have done to a word on its command line.
            return str(Path(text).expanduser()) if text.startswith("~") else text

        try:
            made = beginning.made(
                self.place,
                self.who,
                procedure=path(new.procedure),
                engine=path(new.engine),
                specs=path(new.specs),
                name=new.name,
            )
        except (CommandError, RuntimeError) as error:
            raise ValueError(str(error)) from None
        return Opening(folder=made, fresh=True)

    def _tell_of_demos(self) -> None:
        from snugset.commands.sitting import resuming  # noqa: PLC0415 - it needs this module

        for folder in self.demos:
            scratch = folder.parent.parent
            there = replace(self.place, moved=scratch)
            say(
                f"The demo stands in {scratch}; nothing of yours was touched.",
                f"To go on: {resuming(folder.name, there)}",
                f"When you are through with it, delete {scratch}",
            )


def known(named: str) -> Mapping[str, str]:
    """Give what an engine knows of a calculator's keys; FigureError if there is no such engine."""
    from snugset.commands.figuring import engine  # noqa: PLC0415 - for a calculator only
    from snugset.trade.fault import FigureError  # noqa: PLC0415 - as above

    try:
        return engine(named)
    except CommandError as error:
        raise FigureError("engine", str(error).removeprefix("engine: ")) from error
