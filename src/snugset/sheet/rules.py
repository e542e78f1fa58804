"""The guide's rules in words, for whoever reads that one was gone against."""

from collections.abc import Mapping

RULES: Mapping[str, str] = {
    "band": "a figure outside the plausible band is looked at again",
    "bleeding": "the crank is turned once filled lifters have bled down",
    "bottomed": "a plunger at the end of its travel is no measurement",
    "cannot-fit": "no length is ordered that leaves a place outside the window",
    "count": "what was counted before and now must agree",
    "early": "a wait goes on until its time has passed",
    "factor": "a figure that fits only after a slip of units is looked at again",
    "guard-counts": "everything that was counted in has been counted out",
    "guard-preload": "every place is measured and accepted before the cover closes",
    "guard-studs": "before the head goes on: wet holes sealed, blind holes dry, every stud in",
    "high": "a reading over its limit is put right",
    "leaves": "three feeler leaves in a stack are the most",
    "loose": "no gap at all is no measurement",
    "low": "a reading under its limit is put right",
    "not-proved": "a reading outside its limit by less than its doubt is taken again",
    "not-proven": "number one is proven on its compression dead centre",
    "not-right": "what is found wrong is put right before going on",
    "off": "a reading away from its prediction is taken again",
    "old": "a reading as before means that the old pushrod is still in",
    "out-of-window": "a place out of the window gets another pushrod",
    "outside-window": "the crank stands within the setting point's window",
    "pattern": "a pattern in the readings is looked into before ordering",
    "places-missing": "every place is measured before a round is judged",
    "provisional": "a reading counts once the lifter has bled down",
    "takes-apart": "takes that do not repeat ask for another one",
    "within": "a figure lies in the window it belongs to",
    "wrench-range": "a torque lies within the range of the wrench",
}
"""By the code that is kept with an override."""


def rule_words(code: str) -> str:
    """Say a rule in words; a rule that is not known here by its code."""
    return RULES.get(code, code)
