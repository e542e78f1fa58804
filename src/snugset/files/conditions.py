"""Conditions: on an engine's features, on figures, on what was changed; and their reader."""

import re

from snugset.files.engine_shape import FEATURES
from snugset.files.problems import Mark, Problems, one_of, quote
from snugset.files.shape import ScalarShape, Schema
from snugset.typed import Literal
from snugset.values import dataclass

CHANGES = ("camshaft", "head", "gasket", "springs", "pistons")
"""What can be other than before, in the order in which it is said."""
MOST = 24
"""Conditions in one list; more than any work hangs on."""
NOTHING = "nothing"
ANYTHING = "anything"
_CHANGED = (*CHANGES, NOTHING, ANYTHING)
_FORM = (
    r"changed (?P<changed>.+)"
    r"|figure (?P<figure>[a-z0-9][a-z0-9.-]*) (?:is|are) (?P<not1>not )?(?P<value>.+)"
    r"|(?P<feature>[a-z-]+) (?:is|are) (?P<not2>not )?(?P<word>\S+)"
)
_FORMS = "rockers are bridged, figure NAME is had, figure NAME is WORD, changed camshaft or head"
_WANTS = f"a condition, such as {_FORMS}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """Something that must be so for a step to be done or a figure to be asked."""

    about: Literal["feature", "had", "choice", "changed"]
    name: str
    """The feature's or the figure's; empty for what was changed."""
    words: tuple[str, ...]
    """The word wanted; of what was changed, any one of them; empty for a figure that is had."""
    negated: bool
    text: str
    """As typed."""
    mark: Mark

    @property
    def figure(self) -> str:
        """The figure that it hangs on by name; empty for others."""
        return self.name if self.about in ("had", "choice") else ""


@dataclass(frozen=True, slots=True)
class ConditionShape(ScalarShape[Condition]):
    """One condition."""

    @property
    def wants(self) -> str:
        """In words."""
        return _WANTS

    def read_text(self, text: str, mark: Mark, into: Problems) -> Condition | None:
        """Return the condition; features and their words are checked here, figures later."""
        found = re.fullmatch(_FORM, " ".join(text.split()))
        if found is None:
            into.add(mark, f"{quote(text)} is no condition; write it like one of these: {_FORMS}")
            return None
        if found["changed"]:
            return _changed(found["changed"], text, mark, into)
        if found["figure"]:
            had = found["value"] == "had"
            return Condition(
                about="had" if had else "choice",
                name=found["figure"],
                words=() if had else (found["value"],),
                negated=bool(found["not1"]),
                text=text,
                mark=mark,
            )
        return _feature(
            found["feature"], found["word"], text, mark, into, negated=bool(found["not2"])
        )

    def schema(self) -> Schema:
        """As JSON Schema."""
        return {"type": "string", "pattern": f"^(?:{_plain(_FORM)})$"}


def _plain(pattern: str) -> str:
    """Write a pattern without names, as JSON Schema's dialect wants it."""
    return re.sub(r"\?P<\w+>", "", pattern)


def _changed(words: str, text: str, mark: Mark, into: Problems) -> Condition | None:
    parts = tuple(words.split(" or "))
    for word in parts:
        if word not in _CHANGED:
            near = into.near(word, _CHANGED)
            into.add(mark, f"{quote(word)} is not {one_of(_CHANGED)}{near}")
            return None
    return Condition(about="changed", name="", words=parts, negated=False, text=text, mark=mark)


def _feature(
    name: str, word: str, text: str, mark: Mark, into: Problems, *, negated: bool
) -> Condition | None:
    if name not in FEATURES:
        near = into.near(name, FEATURES) or f"; there are {one_of(FEATURES)}"
        into.add(mark, f"{quote(name)} is no feature of an engine{near}")
        return None
    if FEATURES[name].read_text(word, mark, into) is None:
        return None
    return Condition(
        about="feature", name=name, words=(word,), negated=negated, text=text, mark=mark
    )
