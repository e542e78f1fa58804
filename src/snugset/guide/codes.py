"""The codes of refusals, a closed set: answers files expect them by these names."""

CODES = frozenset({
    "band", "factor", "within", "wrench-range", "not-right", "count", "guard-studs",
    "guard-preload", "guard-counts", "guard-bled", "guard-lash", "low", "high", "not-proved",
    "out-of-window", "provisional", "places-missing", "no-such-leaf", "assumes-differ",
    "few-takes", "takes-wild", "not-marked", "leaves", "takes-apart", "loose", "bottomed", "off",
    "old", "pattern", "cannot-fit", "tighter", "angle-given", "angle-under", "angle-over",
    "still-moving", "not-reached", "restart", "bleeding", "early", "bridge-begun", "sealant",
    "needs", "travel", "margin", "not-proven", "outside-window", "judged", "returning", "away",
    "empty", "choice", "tick", "reason", "too-long", "character", "source", "assumes",
    "not-a-number", "comma", "unit", "kind", "negative", "window", "rising", "thread", "camshaft",
    "no-figure", "must-be-had", "figure", "nothing-measured", "no-skip", "waiting", "stale",
    "not-yet", "finished", "no-such-place", "nothing-back",
    "behind", "same-person", "nobody-else", "photo-file", "photo-kind", "photo-size",
    "photo-unread",
})  # fmt: skip
"""Each with what it is because of: docs/files.md."""
