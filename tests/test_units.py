from decimal import Decimal, localcontext

import pytest

from snugset.units import (
    UNITS,
    Quantity,
    UnitError,
    read,
    read_list,
    read_takes,
    read_terms,
    read_window,
)


def q(value: str, unit: str = "thou") -> Quantity:
    return Quantity(Decimal(value), unit)


@pytest.mark.parametrize(
    ("text", "unit", "said"),
    [
        ("17+18", "thou", "35 thou"),
        ("17 + 18 thou", "in", "35 thou"),
        ("17 thou + 18", "thou", "35 thou"),
        ("17 mm + 18 mm", "thou", "35 mm"),
        ("1 in + 0.5 mm + 4 thou", "mm", "26.0016 mm"),
        ("3/16 in", "thou", "0.1875 in"),
        ("1 1/2 in", "thou", "1.5 in"),
        ("1-1/2 in", "thou", "1.5 in"),
        ("1½ in", "thou", "1.5 in"),
        ("1 ½ in", "thou", "1.5 in"),
        ("⅛ in", "thou", "0.125 in"),
        ("3⁄16 in", "thou", "0.1875 in"),
        (".035 in", "thou", "0.035 in"),
        ("35.", "thou", "35 thou"),
        ("35-thou", "in", "35 thou"),
        ("38 thou", "in", "38 thou"),
        ("0.97 mm", "thou", "0.97 mm"),
        ("9.640", "in", "9.640 in"),
        ("  35\u00a0thou\n", "in", "35 thou"),
        ("1/4 turn", "deg", "0.25 turn"),
        ("60°", "deg", "60 deg"),
        ("9 d", "h", "9 d"),
        ("1.6", "", "1.6"),
        ("0", "thou", "0 thou"),
        ("-0", "thou", "0 thou"),
    ],
)
def test_reads_what_the_trade_types(text: str, unit: str, said: str) -> None:
    assert str(read(text, unit=unit)) == said


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ("in", "in|in.|inch|inches|Inches|\"|''|″"),
        ("thou", "thou|thou.|thousandths|thousandths of an inch|mil|mils|THOU"),
        ("mm", "mm|mm.|MM|Mm|millimetre|millimetres|millimeters"),
        (
            "lbf·ft",
            "lbf·ft|ft-lb|ft·lb|lb-ft|lbf-ft|ft lbs|ft. lbs.|ft.-lb.|FT-LB|ftlb|ftlbs|lbft|lb.ft",
        ),
        ("lbf·ft", "foot-pounds|foot pounds|pound-feet|lbs ft|lb⋅ft|lb*ft|ft\u2011lb|ft-lbf"),
        ("lbf·in", "lbf·in|in-lb|in·lb|lb-in|inch-pounds|in lbs|in.-lbs.|inlb|pound inches"),
        ("N·m", "N·m|Nm|N.m|N-m|N m|nm|NM|N*m|newton metres|newton-meters|newtonmetre"),
        ("kgf·m", "kgf·m|kgf m|kg-m|kgm|m-kg|mkg|kp·m|kilogram metres"),
        ("deg", "deg|degs|degrees|degree|°|º"),
        ("turn", "turn|turns|rev|revolutions"),
        ("s", "s|sec|seconds"),
        ("min", "min|mins|min.|minutes"),
        ("h", "h|hr|hrs|hours"),
        ("d", "d|day|days"),
        ("lbf", "lbf|lb|lbs|pounds|pounds-force"),
        ("N", "N|newtons"),
        ("kN", "kN|kilonewtons"),
        ("psi", "psi|PSI|lbf/in²|lb/in2"),
        ("ksi", "ksi"),
        ("kPa", "kPa|kpa"),
        ("MPa", "MPa|N/mm²|N/mm2"),
        ("in²", "in²|in2|in^2|sq in|sq. in.|square inches"),
        ("mm²", "mm²|mm2|sq mm"),
        ("cc", "cc|cm³|cm3|ml|cubic centimetres"),
        ("in³", "in³|in3|in^3|cu in|cu. in.|cubic inches|CID"),
    ],
)
def test_each_way_of_typing_a_unit_is_normalised(form: str, words: str) -> None:
    for word in words.split("|"):
        for text in (f"22 {word}", f"22{word}", f"11 + 11 {word}"):
            assert read(text, unit=form) == q("22", form), text


def test_the_spellings_above_are_for_every_unit() -> None:
    for form in UNITS:
        assert read(f"22 {form}", unit=form) == q("22", form)


def test_terms_takes_lists_and_windows() -> None:
    assert read_terms("17+18", unit="thou") == (q("17"), q("18"))
    assert read_terms("17 + 18 mm", unit="thou") == (q("17", "mm"), q("18", "mm"))
    assert read_takes("17+18; 18+18", unit="thou") == ((q("17"), q("18")), (q("18"), q("18")))
    assert read_list("22, 45, 110 lbf·ft", unit="N·m") == tuple(
        q(value, "lbf·ft") for value in ("22", "45", "110")
    )
    assert read_list("22 N·m; 45 lbf·ft", unit="N·m") == (q("22", "N·m"), q("45", "lbf·ft"))
    assert read_list("22,45,110", unit="N·m")[1:] == (q("45", "N·m"), q("110", "N·m"))
    assert read_list("9.600,9.620", unit="in") == (q("9.600", "in"), q("9.620", "in"))
    assert read_list("1,2,3,4", unit="") == tuple(q(value, "") for value in "1234")


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("0.020..0.060 in", "0.020 in", "0.060 in"),
        (".020...060 in", None, None),
        (".020 ... .060 in", "0.020 in", "0.060 in"),
        ("0.020…0.060 in", "0.020 in", "0.060 in"),
        ("20 to 60 thou", "20 thou", "60 thou"),
        ("20-60 thou", "20 thou", "60 thou"),
        ("20 – 60", "20 in", "60 in"),
        ("20 thou-60 thou", "20 thou", "60 thou"),
        ("1-1/4 - 1-1/2 in", "1.25 in", "1.5 in"),
        ("1/4-1/2 in", "0.25 in", "0.5 in"),
        ("0.5 mm to 60 thou", "0.5 mm", "60 thou"),
        ("22 ft-lb to 45 ft-lb", None, None),
        ("60-20", None, None),
        ("20 to 20", None, None),
        ("20", None, None),
        ("20-40-60", None, None),
        ("to 60", None, None),
    ],
)
def test_windows(text: str, low: str | None, high: str | None) -> None:
    if low is None:
        with pytest.raises(UnitError):
            read_window(text, unit="in")
    else:
        assert tuple(map(str, read_window(text, unit="in"))) == (low, high)


def test_a_window_below_zero_when_it_may_be() -> None:
    for text in ("-10..5", "-10 to 5", "-10 - 5", "-10-5"):
        assert read_window(text, unit="thou", negative=True) == (q("-10"), q("5"))
    assert read_window("-10--5", unit="thou", negative=True) == (q("-10"), q("-5"))


def test_negative_is_let_in_where_it_may_be() -> None:
    assert read("-5", unit="thou", negative=True) == q("-5")
    assert read("−5 mm", unit="thou", negative=True) == q("-5", "mm")
    assert read("18+-20", unit="thou", negative=True) == q("-2")


def test_a_field_without_a_unit_of_its_own_asks_for_one() -> None:
    assert read("35 thou", unit="", kind="length") == q("35")
    assert read("1 in + 35 thou", unit="", kind="length") == q("1035")
    with pytest.raises(UnitError, match="“35” has no unit; write in, thou or mm after it"):
        read("35", unit="", kind="length")


def test_reading_does_not_depend_on_the_decimal_context() -> None:
    with localcontext() as context:
        context.prec = 2
        assert read("1234.5678 + 0.0001", unit="mm") == q("1234.5679", "mm")
        assert read("-1234.5678", unit="mm", negative=True) == q("-1234.5678", "mm")
        assert read("12 3/16 in", unit="mm") == q("12.1875", "in")
        assert q("1234.5678", "in").to("mm") == q("31358.02212", "mm")
