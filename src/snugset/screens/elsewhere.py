"""The commands of a build that is open elsewhere, or is copied there."""

from snugset.screens.command import Command

ELSEWHERE: tuple[Command, ...] = (
    Command(
        name="follow",
        key="f",
        shown="F",
        footer="follow",
        palette="Follow the marked build, read only",
        help="Shows the marked build as it goes on elsewhere; nothing is answered there.",
        screens=("builds",),
        footed=False,
    ),
    Command(
        name="take",
        key="enter",
        shown="Enter",
        footer="take it over",
        palette="Take the build over",
        help="Opens the build here, once nobody else has it open.",
        screens=("follow",),
        priority=True,
    ),
    Command(
        name="copy",
        key="ctrl+n",
        shown="^N",
        footer="copy",
        palette="Copy the build to another place",
        help="Writes everything that was acknowledged into one file elsewhere.",
        screens=("bench",),
        footed=False,
        priority=True,
    ),
)
