"""What is true of a build: a fold of its records, never stored."""

from collections.abc import Mapping
from decimal import Decimal

from snugset.files.figures import SpecValue
from snugset.guide.address import Address
from snugset.typed import Literal
from snugset.units import Quantity
from snugset.values import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Spec:
    """One figure the builder brought, or said not to have."""

    name: str
    value: SpecValue
    """None where the builder does not have it and nothing is read in its place."""
    typed: str
    had: bool
    """False: the builder does not have it; `value` is then common practice or None."""
    source: str | None
    """None until it is answered."""
    assumes: str | None
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """A leaf that is closed."""

    kind: Literal["done", "reading", "skipped", "judged"]
    value: str
    """The count, the choice, the setting, the outcome, the reason; empty for a tick."""
    at: str
    person: str
    sequence: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What was measured at one address."""

    address: Address
    figure: str
    value: Quantity
    uncertainty: Quantity | None
    """U, the half-width at about 95 %; None where the instrument's doubt was not given."""
    typed: str
    verdict: str
    low: Quantity | None
    high: Quantity | None
    """The limits that it was judged by; None where there was none."""
    flag: str
    """What the re-reading says against its prediction: agrees, off, old; empty without one."""
    provisional: bool
    reason: str
    """Why it stands although a rule stopped it; empty otherwise."""
    pushrod: Quantity | None
    """The length that was in when this was read."""
    predicted: Quantity | None
    working: tuple[str, ...]
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A reading that was taken and could not stand; it stays on the record."""

    address: Address
    value: Quantity
    uncertainty: Quantity | None
    typed: str
    code: str
    words: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPoint:
    """A setting point as it was worked out; degrees on the 720° circle from number one firing."""

    key: str
    places: tuple[str, ...]
    low: Decimal
    high: Decimal
    aim: Decimal
    margin: Decimal | None
    """None without a camshaft card."""
    marked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """The setting points of one crank container and how they were found."""

    points: tuple[PlannedPoint, ...]
    method: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What was decided over one round of readings."""

    address: Address
    outcome: Literal["accept", "order"]
    lengths: Mapping[str, Quantity]
    predicted: Mapping[str, Quantity]
    proved: bool
    words: tuple[str, ...]
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A wait that has begun."""

    address: Address
    what: str
    since: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """Going on against a rule, with a reason."""

    address: Address
    code: str
    words: str
    """What the rule said."""
    reason: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A remark, at the place where it was made."""

    address: Address
    text: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """A photograph that was copied into the build's folder."""

    address: Address
    name: str
    """Of the copy: its digest, and an ending that says its type."""
    digest: str
    """SHA-256 of its bytes, in hexadecimal."""
    media: str
    """``image/jpeg`` and the like, as its first bytes say."""
    size: int
    """Bytes."""
    caption: str
    at: str
    person: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """An interruption, and what it put in doubt."""

    gap: int
    """Seconds since the last answer."""
    before: str
    """The last answer before the break, RFC 3339 UTC."""
    at: str
    last_person: str
    person: str
    stood: str
    """The address that was open when the break began."""
    crank: Decimal | None
    """Where the crank was believed to be."""
    voided: tuple[str, ...]
    loose: tuple[str, ...]
    advice: tuple[str, ...]
    """What to re-check before touching anything."""


@dataclass(frozen=True, slots=True)
class Given:
    """One answer that stands, for undo and history."""

    number: int
    what: str
    """The address it answered."""
    turned: bool
    """Whether it says where the crank stands."""
    more: int = 0
    """Further places that it closed, as a whole stage does."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing that is true of the engine since a moment."""

    value: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """What is true of the engine now."""

    crank: Decimal | None = None
    """Degrees past number one's firing dead centre, 0 to 720; None is unknown."""
    marks: Mapping[tuple[str, str], Mark] = field(default_factory=dict)
    """By (what, place): hole, sealed, oiled, wiped, stud, pushrod, stage, torqued, head-on …"""

    def mark(self, what: str, place: str = "") -> str | None:
        """Give the value of a mark, or None where there is none."""
        found = self.marks.get((what, place))
        return None if found is None else found.value


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """The whole of a build as it stands."""

    name: str = ""
    sequence: int = 0
    answer: int = 0
    """The number of the newest answer, undone or not."""
    given: tuple[Given, ...] = ()
    """The answers that stand, oldest first."""
    specs: Mapping[str, Spec] = field(default_factory=dict)
    facts: Mapping[Address, Fact] = field(default_factory=dict)
    readings: Mapping[Address, Reading] = field(default_factory=dict)
    planned: Mapping[str, Planned] = field(default_factory=dict)
    judged: Mapping[Address, Judged] = field(default_factory=dict)
    holds: Mapping[Address, Hold] = field(default_factory=dict)
    condition: Condition = field(default_factory=Condition)
    set_aside: tuple[SetAside, ...] = ()
    overrides: tuple[Override, ...] = ()
    notes: tuple[Note, ...] = ()
    photographs: tuple[Photograph, ...] = ()
    breaks: tuple[Break, ...] = ()
    returning: bool = False
    """A break has not been acknowledged yet."""
    begun_at: str = ""
    last_at: str = ""
    last_person: str = ""
    people: tuple[str, ...] = ()
    """Everybody on record, in the order in which they came."""

    def spec(self, name: str) -> SpecValue:
        """Give a figure's value, None where it is not had or not asked yet."""
        found = self.specs.get(name)
        return None if found is None else found.value
