"""Room under the valve cover."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from snugset.trade.cover import Cover, Under, cover
from snugset.trade.fault import FigureError
from snugset.units import Quantity

from .amounts import q

CRUSH = Decimal("0.3")


def over_an_eighth(
    under: Under,
    new: str | None = ".1875 in",
    *,
    want: str = ".060 in",
    uncertainty: str | None = None,
) -> Cover:
    """Clay .045 at the baffle over a .125 gasket."""
    return cover(
        q(".045 in"),
        crush=CRUSH,
        under=under,
        gasket_old=q(".125 in"),
        gasket_new=None if new is None else q(new),
        want=q(want),
        uncertainty=None if uncertainty is None else q(uncertainty),
    )


@pytest.mark.parametrize(
    ("under", "clearance", "enough"),
    [("drawn", 0.08875, True), ("laid", 0.05125, False), ("bare", 0.17625, True)],
)
def test_how_the_cover_stood_decides(under: Under, clearance: float, enough: bool) -> None:  # noqa: FBT001  # a case
    """Clay + new·(1 − crush) − under: .089 drawn down, .051 had it only been laid on."""
    found = over_an_eighth(under)
    assert found.clearance is not None
    assert found.clearance.number("in") == pytest.approx(clearance, abs=1e-9)
    assert found.enough is enough
    assert found.verdict is None


def test_the_gasket_that_will_do() -> None:
    """(.060 − .045 + .125 × .7)/.7 = .1464 in, rounded up."""
    found = over_an_eighth("drawn", new=None)
    assert (found.clearance, found.enough) == (None, None)
    assert found.gasket == q("0.1465 in")
    assert over_an_eighth("drawn", new="0.1465 in").enough is True
    assert over_an_eighth("drawn", new="0.1464 in").enough is False
    assert over_an_eighth("bare", new=None, want="0.040 in").gasket == q("0 in")


def test_the_doubt_of_the_clay_decides_the_verdict() -> None:
    assert over_an_eighth("drawn", uncertainty=".010 in").verdict == "in"
    assert over_an_eighth("drawn", uncertainty=".030 in").verdict == "inside"
    assert over_an_eighth("laid", uncertainty=".010 in").verdict == "outside"
    assert over_an_eighth("laid", uncertainty=".005 in").verdict == "low"


def test_an_old_gasket_of_another_crush() -> None:
    """.045 + .13125 − .125 × .9 = .06375."""
    found = cover(
        q("45 thou"), crush=CRUSH, under="drawn", gasket_old=q(".125 in"),
        gasket_new=q(".1875 in"), crush_old=Decimal("0.1"),
    )  # fmt: skip
    assert found.clearance == q("63.75 thou")


@given(
    clay=st.integers(0, 150), old=st.integers(20, 250), crush=st.integers(0, 60),
    doubt=st.integers(0, 20), under=st.sampled_from(["bare", "laid", "drawn"]),
)  # fmt: skip
def test_the_gasket_that_will_do_does_and_a_thinner_one_does_not(
    clay: int, old: int, crush: int, doubt: int, under: Under
) -> None:
    def with_new(gasket: Quantity | None, unit: str = "thou") -> Cover:
        return cover(
            q(f"{clay} thou").to(unit), crush=Decimal(crush) / 100, under=under,
            gasket_old=q(f"{old} thou"), gasket_new=gasket, uncertainty=q(f"{doubt} thou"),
        )  # fmt: skip

    need = with_new(None).gasket
    if need.value == 0:
        return
    assert with_new(need).verdict == "in"
    assert with_new(Quantity(need.value - Decimal("0.2"), "thou")).verdict != "in"
    assert with_new(None, "mm").gasket.number("thou") == pytest.approx(float(need.value), abs=0.01)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(FigureError) as refused:
        cover(q("45 thou"), crush=CRUSH, under="laid")
    assert str(refused.value) == (
        "gasket_old: needed with under=laid: the gasket that was under it"
    )
    with pytest.raises(FigureError, match="crush: 1 is no crush; write a part of the thickness"):
        cover(q("45 thou"), crush=Decimal(1), under="bare")
