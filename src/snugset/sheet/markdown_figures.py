"""The sheet's figures in Markdown that work is done by: specs, fasteners, setting points."""

from decimal import Decimal

from snugset.sheet.contents import Sheet
from snugset.sheet.entries import Entry
from snugset.sheet.fastened import Fastener, FastenerGroup
from snugset.sheet.inert import inert
from snugset.sheet.layout import items, paragraph, table
from snugset.sheet.phrases import clock, code, crank, done, listed
from snugset.sheet.points import PointRow, Points
from snugset.sheet.specs import SpecRow


def spec_sheet(sheet: Sheet) -> list[str]:
    """Give every figure with its source, or what follows from not having it."""
    return ["## Spec sheet", "", *items([_spec(row) for row in sheet.specs])]


def _spec(row: SpecRow) -> str:
    if row.state == "not-asked":
        return f"{inert(row.name)}: not asked yet"
    if row.state == "not-had":
        instead = (
            f"; {inert(row.shown)} is taken instead ({inert(row.source)})" if row.shown else ""
        )
        return f"{inert(row.name)}: **not had**{instead}. {inert(row.consequence)}"
    assumes = f", with: {inert(row.assumes)}" if row.assumes else ""
    source = inert(row.source) or "not given yet"
    return f"{inert(row.name)}: **{inert(row.shown)}**{assumes}. Source: {source}"


def instruments(sheet: Sheet) -> list[str]:
    """Give what was measured and tightened with, and when it was last checked."""
    if not sheet.instruments:
        return []
    return [
        "## Instruments",
        "",
        *items(
            [
                f"{inert(each.figure)}: {inert(each.shown) or 'not known'}"
                f"{'' if each.had else ' (not had)'}. "
                + (f"Checked: {inert(each.checked)}" if each.checked else "Nothing said of a check")
                for each in sheet.instruments
            ]
        ),
    ]


def fasteners(sheet: Sheet) -> list[str]:
    """Give each group of fasteners by hole, and what was torqued by itself."""
    lines = ["## Fasteners", ""]
    for group in sheet.fasteners:
        lines += [f"### Group {inert(group.name)} ({group.kind}s)", "", *_group(group)]
    if sheet.torqued:
        lines += ["### Torqued place by place", ""]
        lines += table(
            ("Place", "Where", "Step", "Screws", "Torque", "When", "By"),
            [
                (
                    inert(each.place),
                    inert(each.where),
                    code(each.step),
                    str(each.screws),
                    str(each.setting or ""),
                    done(each.entry),
                    inert(each.entry.person),
                )
                for each in sheet.torqued
            ],
            shared=("Step", "Screws", "Torque", "By"),
        )
    return lines


def _group(group: FastenerGroup) -> list[str]:
    made = "generated from the map, for want of the maker's" if group.generated else "the maker's"
    found = [stage for each in group.fasteners for stage in each.stages]
    steps = list(dict.fromkeys(stage.step for stage in found))
    stages = sorted(
        {(stage.step, stage.number) for stage in found},
        key=lambda pair: (steps.index(pair[0]), pair[1]),
    )
    heads = [
        f"{f'{inert(step)} ' if len(steps) > 1 else ''}{_stage_head(group, step, number)}"
        for step, number in stages
    ]
    rows = [
        (
            inert(each.key),
            inert(each.where),
            str(each.length or ""),
            _hole(each),
            done(each.sealed),
            done(each.oiled),
            done(each.wiped),
            done(each.fitted),
            *(_stage(each, step, number) for step, number in stages),
        )
        for each in group.fasteners
    ]
    return [
        *paragraph(f"Order of tightening ({made}): {', '.join(map(inert, group.order))}."),
        *table(
            ("No", "Where", "Length", "Hole", "Sealed", "Oiled", "Wiped dry", "Stud in", *heads),
            rows,
        ),
    ]


def _hole(fastener: Fastener) -> str:
    """Write the hole as it was found, or else as the map has it."""
    if fastener.hole is None or fastener.hole.outcome != "done":
        return "" if fastener.mapped == "unknown unknown" else f"{fastener.mapped} (map)"
    found = inert(fastener.hole.value)
    return found if fastener.hole.value == fastener.mapped else f"{found}, not as on the map"


def _stage_head(group: FastenerGroup, step: str, number: int) -> str:
    of_step = {
        stage.setting
        for each in group.fasteners
        for stage in each.stages
        if (stage.step, stage.number) == (step, number) and stage.setting is not None
    }
    return f"Stage {number}, {listed(sorted(map(str, of_step)))}" if of_step else f"Stage {number}"


def _stage(fastener: Fastener, step: str, number: int) -> str:
    return next(
        (done(s.entry) for s in fastener.stages if (s.step, s.number) == (step, number)), ""
    )


def setting_points(sheet: Sheet) -> list[str]:
    """Give the setting points, how they were found, and when the crank was brought to them."""
    if not sheet.points:
        return []
    lines = ["## Setting points", ""]
    told: dict[tuple[PointRow, ...], str] = {}
    for points in sheet.points:
        before = told.setdefault(points.points, points.step)
        known = before != points.step
        why = f"the same as {code(before)}." if known else inert(points.why or points.method)
        lines += paragraph(f"{code(points.step)}: {why}")
        lines += items(
            [
                f"{inert(point.key) if known else _point(point)}{_used(points, point.key)}"
                for point in points.points
            ]
        )
    return lines


def _point(point: PointRow) -> str:
    what = point.over if len(point.places) > 1 else point.over.removesuffix("s")
    margin = "" if point.margin is None else f"; margin {point.margin.value:.0f}°"
    rim = f" {point.rim}" if point.rim else ""
    places = listed(map(inert, point.places))
    return f"{inert(point.key)}, {what} {places}: {point.window}{margin}.{rim}"


def _used(points: Points, key: str) -> str:
    turns = [_turn(turn) for turn in points.turns if turn.place == key]
    return f" Crank brought there {'; '.join(turns)}." if turns else ""


def _turn(turn: Entry) -> str:
    """Say when the crank was turned to a point, and where it stood, from number one's mark."""
    if turn.outcome == "skipped":
        return f"{clock(turn.at)} skipped"
    return f"{clock(turn.at)} at {crank(Decimal(turn.value))}"
