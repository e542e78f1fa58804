"""Calculators for screws: thread, clamp load, wrench setting."""

from snugset.trade import clamp as clamping
from snugset.trade import wrench as setting
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.declared.bands import LEVER, PROOF, SHANK, TORQUE
from snugset.trade.exact import nearest, shown_as
from snugset.trade.fault import FigureError
from snugset.trade.thread import Grade, Thread, load_at, proof_strength
from snugset.units import Quantity, echo

_INCH: tuple[Grade, ...] = ("2", "5", "8")
_METRIC: tuple[Grade, ...] = ("8.8", "10.9", "12.9")


def _grades(thread: Thread) -> tuple[Grade, ...]:
    return _METRIC if thread.metric else _INCH


def _thread(given: Given) -> Result:
    thread = given.need("thread", Thread)
    area = thread.stress_area
    loads: dict[str, Quantity] = {
        grade: load_at(proof_strength(grade, thread.diameter), area) for grade in _grades(thread)
    }
    d, pitch = (shown_as(one, one.unit).value for one in (thread.diameter, thread.pitch))
    less = "0.9382" if thread.metric else "0.9743"
    return Result(
        outputs={
            "diameter": Figure(value=shown_as(thread.diameter, thread.diameter.unit)),
            "pitch": Figure(value=shown_as(thread.pitch, thread.pitch.unit)),
            "stress_area": Figure(value=area),
            "proof_load": Figure(value=loads),
        },
        working=(
            f"π/4 × ({d} − {less} × {pitch})² = {area}",
            *(_proof_line(grade, thread) for grade in _grades(thread)),
        ),
        source=THREAD.source,
    )


def _proof_line(grade: Grade, thread: Thread) -> str:
    strength, area = proof_strength(grade, thread.diameter), thread.stress_area
    return f"grade {grade}: {strength} × {area} = {load_at(strength, area)}"


THREAD = Calculator(
    name="thread",
    words="pitch, stress area and proof load of a thread",
    inputs=(
        Input(key="thread", form="thread", words="the thread as written: 7/16-20, #10-24, M10x1.5"),
    ),
    outputs=(
        Output(key="diameter", unit="in", words="nominal diameter"),
        Output(key="pitch", unit="in", words="from thread to thread"),
        Output(key="stress_area", unit="in²", words="tensile stress area"),
        Output(key="proof_load", unit="lbf", words="what each grade bears"),
    ),
    formula=(
        "inch: A = π/4·(d − 0.9743/n)²; metric: A = π/4·(d − 0.9382·P)²",
        "proof load = proof strength × A",
    ),
    source="ASME B1.1, ISO 898-1; proof strength: SAE J429, ISO 898-1",
    example=Example(
        inputs={"thread": "7/16-20"}, outputs={"pitch": "0.05 in", "stress_area": "0.1187 in²"}
    ),
    work=_thread,
)


def _clamp(given: Given) -> Result:
    torque, thread = given.one("torque"), given.need("thread", Thread)
    k, scatter = given.number("k"), given.number("scatter")
    grade, proof = given.maybe("grade", str), given.maybe("proof", Quantity)
    if grade is not None and proof is not None:
        raise FigureError("proof", "give either a grade or a proof strength, one of the two")
    if grade is not None:
        proof = _proof(grade, thread)
    count = given.maybe("count", int)
    count = 1 if count is None else count
    found = clamping.clamp(
        torque,
        thread,
        k=k,
        scatter=scatter,
        proof=proof,
        other_thread=given.maybe("other_thread", Thread),
        shank=given.maybe("shank", Quantity),
        count=count,
    )
    doubt = nearest(found.load.number(found.load.unit) * float(scatter), found.load.unit, 2)
    outputs = {
        "load": Figure(value=found.load, uncertainty=doubt),
        "load_low": Figure(value=found.load_low),
        "load_high": Figure(value=found.load_high),
        "area": Figure(value=found.smallest_area),
        "total": Figure(value=found.total),
    }
    d = shown_as(thread.diameter, thread.diameter.unit)
    lines = [
        f"F = T/(K·D) = {torque}/({k} × {d}) = {echo(found.load)}",
        f"from {1 - scatter} to {1 + scatter} of that: {found.load_low.value} to {found.load_high}",
    ]
    if found.proof_load is not None and found.share is not None and found.share_high is not None:
        outputs |= {
            "proof_load": Figure(value=found.proof_load),
            "share_of_proof": Figure(value=Quantity(found.share, "")),
            "share_high": Figure(value=Quantity(found.share_high, "")),
        }
        lines.append(
            f"proof load {proof} × {found.smallest_area} = {found.proof_load}:"
            f" {found.share} of it, up to {found.share_high}"
        )
    if count > 1:
        lines.append(f"{count} fasteners: {found.total}")
    return Result(outputs=outputs, working=tuple(lines), source=CLAMP.source)


def _proof(grade: str, thread: Thread) -> Quantity:
    """Give a grade's proof strength; FigureError for a grade of the other system of threads."""
    for known in _grades(thread):
        if grade == known:
            return proof_strength(known, thread.diameter)
    system = "metric" if thread.metric else "inch"
    raise FigureError(
        "grade",
        f"{grade} is not marked on {system} threads such as {thread.name}; they are"
        f" {', '.join(_grades(thread))}; for another give proof, its proof strength",
    )


CLAMP = Calculator(
    name="clamp",
    words="clamp load from torque, with its scatter and share of proof",
    inputs=(
        Input(key="torque", unit="lbf·ft", band=TORQUE, words="torque on the nut or bolt"),
        Input(key="thread", form="thread", words="the thread that turns: the nut's"),
        Input(key="k", form="number",
              words="nut factor K of thread and lubricant, from its source"),
        Input(key="scatter", form="share", default="25 %",
              words="how far the load can be off either way, a part of it"),
        Input(key="grade", form="choice", choices=(*_INCH, *_METRIC), needed=False,
              words="grade or property class"),
        Input(key="proof", unit="ksi", needed=False, band=PROOF, words="proof strength"),
        Input(key="other_thread", form="thread", needed=False,
              words="thread at a stud's other end"),
        Input(key="shank", unit="in", needed=False, band=SHANK,
              words="diameter of the shank at its thinnest"),
        Input(key="count", form="whole", default="1", words="how many such fasteners"),
    ),
    outputs=(
        Output(key="load", unit="lbf", words="clamp load of one fastener"),
        Output(key="load_low", unit="lbf", words="least load with the scatter"),
        Output(key="load_high", unit="lbf", words="greatest load with the scatter"),
        Output(key="area", unit="in²", words="smallest area: either thread or the shank"),
        Output(key="proof_load", unit="lbf", words="what the smallest area bears"),
        Output(key="share_of_proof", words="load over proof load"),
        Output(key="share_high", words="greatest load over proof load"),
        Output(key="total", unit="lbf", words="load of all fasteners together"),
    ),
    formula=("F = T/(K·D), between (1 − Γ)·F and (1 + Γ)·F", "share = F/(proof strength × area)"),
    source="Speck, Mechanical Fastening, Joining and Assembly, p. 85; scatter: NSTS 08307 rev. A"
           " §3.4",
    example=Example(
        inputs={"torque": "72.7 lbf·in", "thread": "#10-24", "k": "0.30"},
        outputs={"load": "1275 lbf"},
    ),
    work=_clamp,
)  # fmt: skip


def _wrench(given: Given) -> Result:
    torque, scale = given.one("torque"), given.window("range")
    running, adapter = given.maybe("running", Quantity), given.maybe("adapter", Quantity)
    arm, angle = given.maybe("wrench", Quantity), given.maybe("angle", Quantity)
    found = setting.setting(
        torque, scale=scale, wrench=arm, adapter=adapter, angle=angle, running=running
    )
    outputs = {"setting": Figure(value=found.setting)}
    wanted = f"({torque} + {running} running)" if running is not None else str(torque)
    lines = [f"{torque}: set {echo(found.setting)}"]
    if adapter is not None:
        lines = [
            f"{wanted} × {arm}/({arm} + {adapter} × cos {angle or '0 deg'}): {echo(found.setting)}"
        ]
    elif running is not None:
        lines = [f"{wanted}: set {echo(found.setting)}"]
    if found.usable is not None and found.in_range is not None:
        low, high = found.usable
        outputs |= {
            "in_range": Figure(value=found.in_range),
            "usable_low": Figure(value=low),
            "usable_high": Figure(value=high),
        }
        said = "in range" if found.in_range else "out of range"
        lines.append(f"this wrench serves from {low} to {high}: {said}")
    outputs |= {
        "needed_low": Figure(value=found.needed[0]),
        "needed_high": Figure(value=found.needed[1]),
    }
    lines.append(f"a wrench will do whose full scale is {found.needed[0]} to {found.needed[1]}")
    return Result(outputs=outputs, working=tuple(lines), source=WRENCH.source)


WRENCH = Calculator(
    name="wrench",
    words="what to set on a wrench, and whether its range allows it",
    inputs=(
        Input(key="torque", unit="lbf·ft", band=TORQUE, words="torque the fastener is to get"),
        Input(key="range", form="window", unit="lbf·ft", needed=False, zero=True, band=TORQUE,
              words="the wrench's lowest and highest mark"),
        Input(key="wrench", unit="in", needed=False, band=LEVER,
              words="length from its drive to the middle of the grip"),
        Input(key="adapter", unit="in", needed=False, zero=True, band=LEVER,
              words="length from the drive to the fastener"),
        Input(key="angle", unit="deg", needed=False, negative=True,
              words="of the adapter from the handle's line: 0 straight out, 90 no change"),
        Input(key="running", unit="lbf·in", needed=False, zero=True, band=TORQUE,
              words="torque that a self-locking nut takes to run down"),
    ),
    outputs=(
        Output(key="setting", unit="lbf·ft", words="what to set"),
        Output(key="in_range", words="whether this wrench may give it"),
        Output(key="usable_low", unit="lbf·ft", words="least setting this wrench may give"),
        Output(key="usable_high", unit="lbf·ft", words="greatest setting this wrench may give"),
        Output(key="needed_low", unit="lbf·ft", words="least full scale that will do"),
        Output(key="needed_high", unit="lbf·ft", words="greatest full scale that will do"),
    ),
    formula=("setting = T·L/(L + E·cos α)", "usable from 20 % to 100 % of full scale"),
    source="TM 1-1500-204-23-9 §8-5 and table 8-1; running torque: AC 43.13-1B §7-40d",
    example=Example(
        inputs={"torque": "300 lbf·in", "wrench": "10 in", "adapter": "4 in",
                "range": "50 to 250 lbf·in"},
        outputs={"setting": "214.3 lbf·in", "in_range": "yes"},
    ),
    work=_wrench,
)  # fmt: skip
