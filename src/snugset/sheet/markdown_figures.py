"""The sheet's figures in Markdown: specs, fasteners, setting points, rounds, pushrods, readings."""

from decimal import Decimal

from snugset.sheet.contents import Sheet
from snugset.sheet.entries import Entry
from snugset.sheet.fastened import Fastener, FastenerGroup
from snugset.sheet.inert import inert
from snugset.sheet.layout import is_cut, items, paragraph, table
from snugset.sheet.phrases import at, clock, code, crank, done, limits, listed, measured, verdict
from snugset.sheet.points import PointRow, Points
from snugset.sheet.readings import FLAGS, ReadingRow
from snugset.sheet.rounds import Judgement, Round
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


def rounds(sheet: Sheet) -> list[str]:
    """Give each round: window, readings by place, what was decided."""
    lines = ["## Readings by round", ""] if sheet.rounds else []
    for each in sheet.rounds:
        lines += [f"### {inert(each.figure)}, round {each.number}", "", *_round(each)]
    return lines


def _round(round_: Round) -> list[str]:
    window = limits(round_.low, round_.high)
    target = f", target {round_.target}" if round_.target else ""
    lines = paragraph(f"Window {window}{target}." if window else "No window is on the spec sheet.")
    lines += table(
        ("Place", "Reading", "Verdict", "Predicted", "Takes", "Pushrod in", "Read", "By"),
        [
            (
                inert(row.place),
                measured(row),
                verdict(row),
                f"{row.predicted}: {FLAGS.get(row.flag, row.flag)}" if row.predicted else "",
                inert(row.typed),
                str(row.pushrod or ""),
                clock(row.at),
                inert(row.person),
            )
            for row in round_.readings
        ],
        shared=("Pushrod in", "By"),
    )
    lines += items([text for row in round_.readings for text in _remarks(row, inert(row.place))])
    lines += items(
        [
            f"{inert(gap.place) or code(gap.address)}: "
            + (f"skipped: {inert(gap.reason)}" if gap.skipped else "not read")
            for gap in round_.missing
        ]
    )
    return lines + _judgement(round_.judgement)


def _remarks(row: ReadingRow, what: str) -> list[str]:
    found = [f"{what}, kept because: {inert(row.reason)}"] if row.reason else []
    if is_cut(inert(row.typed)):
        found.append(f"{what}, takes: {inert(row.typed)}")
    return found


def _judgement(judgement: Judgement | None) -> list[str]:
    if judgement is None:
        return paragraph("Not judged yet.")
    what = {"accept": "Accepted", "order": "Other pushrods ordered"}
    proved = "every place is proved inside" if judgement.proved else "not every place is proved"
    ahead = ", as predicted" if judgement.outcome == "order" else ""
    lines = paragraph(
        f"**{what.get(judgement.outcome, judgement.outcome)}** {clock(judgement.at)} by "
        f"{inert(judgement.person)}: {proved}{ahead}."
    )
    lines += items([inert(text) for text in judgement.words])
    if judgement.outcome != "order":
        return lines
    return lines + table(
        ("Place", "Pushrod", "Before", "Change", "Should read"),
        [
            (
                inert(each.place),
                str(each.length),
                str(each.before or ""),
                "kept" if each.change and not each.change.value else str(each.change or ""),
                str(each.predicted or ""),
            )
            for each in judgement.chosen
        ],
    )


def pushrods(sheet: Sheet) -> list[str]:
    """Give the pushrod at every place, and how its length is measured."""
    found = sheet.pushrods
    if not any(each.length for each in found.places):
        return []
    how = inert(found.convention) or "not given: an order by these figures may be wrong"
    return [
        "## Pushrods fitted",
        "",
        *paragraph(f"How their length is measured: {how}."),
        *table(
            ("Place", "Length", "Which", "Went in", "By"),
            [
                (
                    inert(each.place),
                    each.shown or "not on record",
                    "" if each.length is None else "ordered" if each.new else "of the set in hand",
                    done(each.entry),
                    inert(each.entry.person) if each.entry else "",
                )
                for each in found.places
            ],
            shared=("Which", "By"),
        ),
    ]


def other_readings(sheet: Sheet) -> list[str]:
    """Give what was measured outside the rounds' own figure."""
    if not sheet.readings:
        return []
    return [
        "## Other readings",
        "",
        *table(
            ("Ledger", "Place", "Round", "Reading", "Limit", "Verdict", "Typed", "Read", "By"),
            [
                (
                    inert(row.figure),
                    inert(row.place),
                    str(row.round or ""),
                    measured(row),
                    limits(row.low, row.high),
                    verdict(row),
                    inert(row.typed),
                    clock(row.at),
                    inert(row.person),
                )
                for row in sheet.readings
            ],
            shared=("By",),
        ),
        *items([text for r in sheet.readings for text in _remarks(r, at(r.address, r.where))]),
    ]
