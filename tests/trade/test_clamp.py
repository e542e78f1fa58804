from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.clamp import clamp, load_for, nut_factor, torque_for
from snugset.trade.fault import FigureError
from snugset.trade.thread import read_thread
from snugset.units import Quantity

from .amounts import q

STUD = read_thread("7/16-20")
K = Decimal("0.18")


@pytest.mark.parametrize(
    ("k", "torque"), [(0.30, 72.7), (0.25, 60.6), (0.20, 48.5), (0.15, 36.3), (0.10, 24.2)]
)
def test_torque_for_a_load(k: float, torque: float) -> None:
    """Speck, Mechanical Fastening, Joining and Assembly, p. 85: D 0.190 in, F 1275 lbf."""
    found = torque_for(q("1275 lbf"), k, q("0.190 in"))
    assert found.number("lbf·in") == pytest.approx(torque, abs=0.06)
    assert load_for(found, k, q("0.190 in")) == pytest.approx(1275, rel=1e-3)


def test_a_nut_factor_of_a_fifth() -> None:
    """Shigley, Mechanical Engineering Design, 9th ed. ex. 8-3 (from memory): 3750 lbf·in."""
    assert torque_for(q("25000 lbf"), 0.2, q("0.75 in")) == q("3750 lbf·in")


def test_a_nut_factor_from_friction() -> None:
    """The same example (from memory): friction .15 at thread and face gives 3551 lbf·in."""
    k = nut_factor(read_thread("3/4-16"), thread_friction=0.15, face_friction=0.15)
    assert k * 0.75 * 25000 == pytest.approx(3551, rel=1e-3)


def test_a_load_has_its_scatter() -> None:
    """Γ lubricated 25 %: NSTS 08307 rev. A §3.4."""
    found = clamp(q("70 lbf·ft"), STUD, k=K)
    load = 70 * 12 / (0.18 * 0.4375)
    assert found.load.unit == "lbf"
    assert found.load.number("lbf") == pytest.approx(load, rel=1e-3)
    assert found.load_low.number("lbf") == pytest.approx(0.75 * load, rel=1e-3)
    assert found.load_high.number("lbf") == pytest.approx(1.25 * load, rel=1e-3)
    assert (found.proof_load, found.share, found.share_high) == (None, None, None)


def test_the_share_of_proof_is_on_the_smallest_area() -> None:
    """Load from the nut's thread, share on the coarse block end, 10 to 11 % smaller."""
    plain = clamp(q("70 lbf·ft"), STUD, k=K, proof=q("120 ksi"))
    coarse = read_thread("7/16-14")
    block = clamp(q("70 lbf·ft"), STUD, k=K, proof=q("120 ksi"), other_thread=coarse)
    waist = clamp(q("70 lbf·ft"), STUD, k=K, proof=q("120 ksi"), shank=q("0.3 in"))
    assert plain.load == block.load == waist.load
    assert block.smallest_area == coarse.stress_area
    assert waist.smallest_area.number("in²") == pytest.approx(0.070686, rel=1e-3)
    assert plain.share is not None
    assert block.share is not None
    assert waist.share is not None
    assert plain.share < block.share < waist.share
    assert block.share == pytest.approx(Decimal("0.836"), abs=Decimal("0.002"))
    assert block.share_high == pytest.approx(Decimal("1.045"), abs=Decimal("0.006"))


def test_a_metric_thread_gives_kilonewtons() -> None:
    found = clamp(q("60 N·m"), read_thread("M10"), k=Decimal("0.2"), proof=q("830 MPa"), count=10)
    assert found.load == q("30 kN")
    assert found.total == q("300 kN")
    assert found.proof_load is not None
    assert found.proof_load.number("kN") == pytest.approx(48.1, rel=5e-3)


@given(st.integers(10, 200), st.integers(1, 60))
def test_more_torque_more_load_and_the_same_in_any_unit(torque: int, more: int) -> None:
    low = clamp(q(f"{torque} lbf·ft"), STUD, k=K).load
    assert clamp(q(f"{torque + more} lbf·ft"), STUD, k=K).load.value > low.value
    assert clamp(Quantity(Decimal(torque * 12), "lbf·in"), STUD, k=K).load == low


@pytest.mark.parametrize(
    ("k", "scatter", "shank", "message"),
    [
        ("20", "0.25", None, "k: 20 is no nut factor; they run from about 0.1 to 0.3"),
        ("0.2", "25", None, "scatter: 25 is no scatter; write a part of the load, such as 25 %"),
        ("0.2", "0.25", "0 in",
         "shank: 0 in is no diameter; measure the shank at its thinnest"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(k: str, scatter: str, shank: str | None, message: str) -> None:
    with pytest.raises(FigureError) as refused:
        clamp(
            q("70 lbf·ft"),
            STUD,
            k=Decimal(k),
            scatter=Decimal(scatter),
            shank=q(shank) if shank else None,
        )
    assert str(refused.value) == message
