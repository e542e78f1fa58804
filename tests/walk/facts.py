"""What the build sheets of the whole builds must say, by the name of the answers file."""

from dataclasses import dataclass

from snugset.sheet.contents import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is held against one sheet."""

    stages: dict[str, tuple[str, ...]]
    """Of the first fastener of each group, the settings in their order."""
    points: dict[str, tuple[str, ...]]
    """Of each crank container, the places of each setting point."""
    methods: tuple[str, ...]
    torqued: tuple[int, str] = (0, "")
    fitted: tuple[str, ...] = ()
    """The lengths that are in, each once; nothing where they are not measured."""
    convention: str = ""
    preload: tuple[str, str] = ("", "")
    """The least and the most that was read last, of preload or of lash."""
    lash: tuple[str, ...] = ()
    """Every lash that was read, each once."""
    wear: tuple[str, ...] = ()
    overrides: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()
    breaks: int


THREE = ("6 5", "4 3", "1 2")
EIGHT = ("1 8", "4 3 6", "5 7 2")
FACTS = {
    "inline-four-solid-shaft-answers": Facts(
        stages={
            "head": ("20 lbf·ft", "40 lbf·ft", "90 deg", "65 lbf·ft"),
            "rocker-shaft": ("10 lbf·ft", "21 lbf·ft"),
            "cover": ("45 lbf·in", "45 lbf·in", "45 lbf·in"),
        },
        points={
            "cold-points": ("1I 3I 3E 4E", "1E 4I 2I 2E"),
            "hot-points": ("1I 1E 3E 2I", "3I 4I 4E 2E"),
        },
        methods=("camshaft", "two-positions"),
        preload=("0.012 in", "0.016 in"),  # the book's hot lash, intake and exhaust
        lash=("0.012 in", "0.0125 in", "0.014 in", "0.016 in", "0.018 in", "14 thou"),
        wear=("4E grew 0.004 in tighter",),
        overrides=("tighter",),
        set_aside=("low",),
        breaks=4,
    ),
    "v6-odd-fire-hydraulic-answers": Facts(
        stages={
            "head": ("20 lbf·ft", "45 lbf·ft", "65 lbf·ft"),
            "cover": ("84 lbf·in", "84 lbf·in"),
        },
        points={"points": THREE, "final-points": THREE},
        methods=("camshaft", "camshaft"),
        torqued=(6, "22 lbf·ft"),
        fitted=("8.140 in",),
        convention="ball to cup",
        preload=("39.5 thou", "45.5 thou"),
        breaks=1,
    ),
    "v8-bridged-hydraulic-answers": Facts(
        stages={
            "head": ("25 lbf·ft", "50 lbf·ft", "70 lbf·ft", "70 lbf·ft"),
            "cover": ("84 lbf·in", "84 lbf·in"),
        },
        points={"points": EIGHT, "final-points": EIGHT},
        methods=("camshaft", "camshaft"),
        torqued=(8, "25 lbf·ft"),
        fitted=("9.625 in",),
        convention="over the oil-hole ends",
        preload=("33 thou", "41.5 thou"),
        set_aside=("old",),
        breaks=3,
        overrides=("same-person",),
    ),
    "v8-stud-mounted-hydraulic-answers": Facts(
        stages={
            "head": ("20 lbf·ft", "40 lbf·ft", "60 lbf·ft", "60 lbf·ft"),
            "cover": ("60 lbf·in", "60 lbf·in"),
        },
        points={"two-points": ("1I 1E 8E 4E 3E 5I 7I 2I", "8I 4I 3I 6I 6E 5E 7E 2E")},
        methods=("two-positions",),
        preload=("18.1 thou", "20.3 thou"),  # 80° and a quarter turn at 81.3 thou a turn
        breaks=3,
    ),
}


def facts_of(sheet: Sheet) -> Facts:
    """Give what a sheet says of them."""
    final = sorted((row.value for row in sheet.summary.final), key=lambda value: value.in_("in"))
    return Facts(
        stages={
            group.name: tuple(str(stage.setting) for stage in group.fasteners[0].stages)
            for group in sheet.fasteners
        },
        points={
            each.step: tuple(" ".join(point.places) for point in each.points)
            for each in sheet.points
        },
        methods=tuple(each.method for each in sheet.points),
        torqued=(len(sheet.torqued), str(sheet.torqued[0].setting) if sheet.torqued else ""),
        fitted=tuple(sorted({str(one.length) for one in sheet.pushrods.places if one.length})),
        convention=sheet.pushrods.convention,
        preload=(str(final[0]), str(final[-1])) if final else ("", ""),
        lash=tuple(sorted({str(r.value) for r in sheet.readings if r.figure.startswith("lash")})),
        wear=tuple(each.words for each in sheet.lash_changes),
        overrides=tuple(each.code for each in sheet.overrides),
        set_aside=tuple(each.code for each in sheet.asides if each.code),
        breaks=len(sheet.breaks),
    )
