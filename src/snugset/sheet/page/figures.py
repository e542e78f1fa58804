"""The page's charts: what of the sheet is drawn, and under which name."""

from markupsafe import Markup

from snugset.guide.address import Address
from snugset.sheet.contents import Sheet
from snugset.sheet.drawn import Svg, crank, holes, ledger, stages
from snugset.sheet.drawn.stages import Row
from snugset.sheet.fastened import FastenerGroup
from snugset.sheet.page.groups import stage_at, stage_heads
from snugset.sheet.points import Points
from snugset.sheet.readings import ReadingRow

FEWEST = 4
"""Readings by place that are worth a chart."""


def _whole(*parts: Svg) -> Markup:
    """Hand pictures to the page; every text in them was escaped where they were drawn."""
    return Markup("\n".join(parts))  # noqa: S704 - made of `Svg` alone


def map_of(group: FastenerGroup, nth: int) -> Markup:
    """Draw the map of a group of fasteners."""
    return _whole(holes(f"map-{nth}", f"Map of the group {group.name}", group))


def stages_of(sheet: Sheet, group: FastenerGroup, nth: int) -> Markup:
    """Draw the stages of a group over time; nothing where none was reached."""
    rows = [
        Row(
            name=f"{name} · {setting}" if setting else f"stage {name}",
            times=tuple(
                stage.entry.at
                for fastener in group.fasteners
                if (stage := stage_at(fastener, step, number)) is not None
                and stage.entry.outcome == "done"
            ),
            undone=_undone(sheet, group, step, number),
            of=len(group.fasteners),
        )
        for step, number, setting, name in stage_heads(group)
    ]
    if not any(row.times for row in rows):
        return _whole()
    return _whole(stages(f"stages-{nth}", f"Stages of the group {group.name} over time", rows))


def _undone(sheet: Sheet, group: FastenerGroup, step: str, number: int) -> tuple[str, ...]:
    """Give when fasteners reached a stage that did not stand, and was given again."""
    standing = {
        stage.entry.address
        for fastener in group.fasteners
        if (stage := stage_at(fastener, step, number)) is not None
    }
    return tuple(
        time.at
        for again in sheet.repeated
        if again.address in standing and Address.parse(again.address).step == step
        for time in again.times[:-1]
    )


def crank_of(points: Points, nth: int) -> Markup:
    """Draw the crank plan."""
    return _whole(crank(f"crank-{nth}", f"Crank plan of {points.step}", points))


def round_of(sheet: Sheet, figure: str, nth: int) -> Markup:
    """Draw every round of a figure in one chart."""
    found = [each for each in sheet.rounds if each.figure == figure]
    rows = [row for each in found for row in each.readings]
    target = next((each.target for each in reversed(found) if each.target is not None), None)
    return _whole(*ledger(f"rounds-{nth}", f"{figure} by place, round by round", rows, target))


def ledger_of(figure: str, rows: tuple[ReadingRow, ...], nth: int) -> Markup:
    """Draw readings outside rounds, a chart for each step that has enough of them by place."""
    by_step: dict[str, list[ReadingRow]] = {}
    for row in rows:
        if row.place:
            by_step.setdefault(Address.parse(row.address).step, []).append(row)
    return _whole(
        *(
            picture
            for number, (step, found) in enumerate(by_step.items())
            if len({row.place for row in found}) >= FEWEST
            for picture in ledger(f"ledger-{nth}-{number}", f"{figure} by place: {step}", found)
        )
    )
