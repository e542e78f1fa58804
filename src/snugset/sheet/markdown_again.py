"""Passes over a group, lash that changed, and revisions, in Markdown."""

from snugset.sheet.again import Pass
from snugset.sheet.contents import Sheet
from snugset.sheet.inert import inert
from snugset.sheet.layout import items
from snugset.sheet.phrases import clock, code, listed


def passes(sheet: Sheet) -> list[str]:
    """Give each verifying stage with its passes and how many moved."""
    lines = ["## The same torque again", ""] if sheet.passes else []
    for each in sheet.passes:
        setting = f" at {each.setting}" if each.setting else ""
        end = "none moved in the end" if each.settled else "**never without one that moved**"
        if each.suspect:
            end += "; still moving after three passes: suspect gasket, thread or a bottomed stud"
        lines += items([f"{code(each.step)}{setting}: {end}", *(_pass(one) for one in each.passes)])
    return lines


def _pass(each: Pass) -> str:
    told = f"skipped: {inert(each.moved)}" if each.skipped else _moved(each.moved)
    return f"pass {each.number}: {told}, {clock(each.at)}, {inert(each.person)}"


def _moved(value: str) -> str:
    return f"{value} moved" if value.isdigit() else inert(value)


def lash_changes(sheet: Sheet) -> list[str]:
    """Give what lash shows that was read again."""
    texts = [
        f"{code(each.step)}: {inert(each.words)}. {inert(each.look_first)}."
        for each in sheet.lash_changes
    ]
    return ["## Lash that changed by itself", "", *items(texts)] if texts else []


def revisions(sheet: Sheet) -> list[str]:
    """Give each revision of the files: when, why, which, what stands and what does not."""
    texts = []
    for each in sheet.revisions:
        parts = [
            f"{clock(each.at)}, {inert(each.person)}: {inert(each.reason)}",
            f"Files: {listed(map(inert, each.files)) or 'none'}",
            f"Closed steps that stand: {each.kept}",
        ]
        for what, names in (
            ("Done again", each.voided),
            ("Asked again", each.figures),
            ("Worked out again", each.plans),
        ):
            if names:
                parts.append(f"{what}: {', '.join(map(code, names))}")
        texts.append(". ".join(parts))
    return ["## Revised files", "", *items(texts)] if texts else []
