"""The calculator for turns of a rocker's adjuster."""

from decimal import Decimal

from snugset.trade import turns as turning
from snugset.trade.calculator import Calculator, Example, Figure, Given, Input, Output, Result
from snugset.trade.declared.bands import GAP, PITCH
from snugset.trade.exact import nearest, shown_as
from snugset.trade.fault import FigureError
from snugset.trade.thread import Thread
from snugset.units import Quantity

_MOUNTS: tuple[turning.Mount, ...] = ("pivot", "pushrod-end", "valve-end")


def _turns(given: Given) -> Result:
    thread, pitch = given.maybe("thread", Thread), given.maybe("pitch", Quantity)
    if (thread is None) == (pitch is None):
        raise FigureError("thread", "give either the thread or its pitch, one of the two")
    if thread is not None:
        pitch = thread.pitch
    if pitch is None:
        raise FigureError("pitch", "needed")
    typed = given.need("mount", str)
    mount = next((mount for mount in _MOUNTS if mount == typed), _MOUNTS[0])
    ratio = given.number("ratio")
    found = turning.turns(
        pitch,
        mount=mount,
        ratio=ratio,
        turned=given.maybe("turns", Decimal),
        travel=given.maybe("travel", Quantity),
    )
    outputs = {
        "plunger": Figure(value=found.plunger),
        "lash": Figure(value=found.lash),
        "turns": Figure(value=Quantity(found.turns, "")),
        "degrees": Figure(value=found.angle),
        "per_turn": Figure(value=found.per_turn),
    }
    p = shown_as(pitch, pitch.unit)
    rule = {
        "pivot": f"{p} × (1 + 1/{ratio})",
        "pushrod-end": str(p),
        "valve-end": f"{p}/{ratio}",
    }[mount]
    lines = [
        f"one turn: {rule} = {found.per_turn} of plunger",
        f"{found.turns} × 360 deg = {found.angle}: plunger {found.plunger}, lash {found.lash}",
    ]
    whole = given.maybe("lifter_travel", Quantity)
    if whole is not None:
        share = nearest(found.plunger.number("mm") / whole.number("mm"), "", 3)
        outputs["share"] = Figure(value=share)
        end = ": bottomed" if share.value >= 1 else ""
        lines.append(f"{share} of the lifter's {whole}{end}")
    return Result(outputs=outputs, working=tuple(lines), source=TURNS.source)


TURNS = Calculator(
    name="turns",
    words="turns of a rocker's adjuster, plunger travel and lash",
    inputs=(
        Input(key="thread", form="thread", needed=False, words="the adjuster's thread"),
        Input(key="pitch", unit="in", needed=False, band=PITCH, words="its pitch"),
        Input(key="mount", form="choice", choices=_MOUNTS, also={"rod-end": "pushrod-end"},
              words="nut at the rocker's pivot, or screw at its pushrod-end or valve-end"),
        Input(key="ratio", form="number", words="rocker ratio"),
        Input(key="turns", form="number", needed=False, negative=True,
              words="turns from zero lash, negative is back"),
        Input(key="travel", unit="thou", needed=False, band=GAP, words="plunger travel wanted"),
        Input(key="lifter_travel", unit="thou", needed=False, band=GAP,
              words="the lifter's whole plunger travel"),
    ),
    outputs=(
        Output(key="plunger", unit="in", words="plunger travel"),
        Output(key="lash", unit="in", words="change of lash at the valve's tip"),
        Output(key="turns", words="turns"),
        Output(key="degrees", unit="deg", words="the same in degrees"),
        Output(key="per_turn", unit="in", words="plunger travel for one turn"),
        Output(key="share", words="part of the lifter's whole travel"),
    ),
    formula=(
        "pivot: plunger = turns·pitch·(1 + 1/R)",
        "pushrod-end: plunger = turns·pitch; valve-end: plunger = turns·pitch/R",
        "lash = plunger·R",
    ),
    source="derived here: the rocker as a lever on the closed valve's tip",
    example=Example(
        inputs={"thread": "7/16-20", "mount": "pivot", "ratio": "1.6", "turns": "1"},
        outputs={"plunger": "0.0813 in", "degrees": "360 deg"},
    ),
    work=_turns,
)  # fmt: skip
