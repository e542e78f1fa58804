import pytest

from snugset.trade.fault import FigureError
from snugset.trade.thread import Grade, load_at, proof_strength, read_thread
from snugset.units import Quantity

from .amounts import q


@pytest.mark.parametrize(
    ("thread", "area"),
    [
        ("3/8-16", ".0775"), ("3/8-24", ".0878"), ("7/16-14", ".1063"), ("7/16-20", ".1187"),
        ("1/2-13", ".1419"), ("1/2-20", ".1599"), ("5/16-18", ".0524"), ("5/8-11", ".226"),
        ("1/4-20", ".0318"),
    ],
)  # fmt: skip
def test_inch_stress_areas(thread: str, area: str) -> None:
    """ASME B1.1, ±1 in the last digit; 1/4-20: Naval Ships' Technical Manual ch. 075."""
    step = 10.0 ** -(len(area) - 1)
    assert read_thread(thread).stress_area.number("in²") == pytest.approx(
        float(area), abs=1.01 * step
    )


@pytest.mark.parametrize(
    ("thread", "area"),
    [("M6", 20.1), ("M8", 36.6), ("M10", 58.0), ("M12", 84.3), ("M14", 115), ("M16", 157)],
)
def test_metric_stress_areas(thread: str, area: float) -> None:
    """ISO 898-1. The inch constant would give 83.2 for M12."""
    found = read_thread(thread).stress_area
    assert found.unit == "mm²"
    assert found.number("mm²") == pytest.approx(area, rel=0.004)


@pytest.mark.parametrize(
    ("thread", "loads"),
    [
        ("M8", (21_200, 30_400, 35_500)),
        ("M10", (33_700, 48_100, 56_300)),
        ("M12", (48_900, 70_000, 81_800)),
    ],
)
def test_metric_proof_loads(thread: str, loads: tuple[int, int, int]) -> None:
    """ISO 898-1, N, classes 8.8, 10.9 and 12.9, within 0.5 %."""
    read = read_thread(thread)
    grades: tuple[Grade, ...] = ("8.8", "10.9", "12.9")
    for grade, load in zip(grades, loads, strict=True):
        found = load_at(proof_strength(grade, read.diameter), read.stress_area)
        assert found.number("N") == pytest.approx(load, rel=0.005)


def test_an_inch_proof_load() -> None:
    """Naval Ships' Technical Manual ch. 075: 1/4-20 grade 8: 0.0318 × 120 000 = 3816 lbf."""
    read = read_thread("1/4-20")
    load = load_at(proof_strength("8", read.diameter), read.stress_area)
    assert load.unit == "lbf"
    assert load.number("lbf") == pytest.approx(3816, rel=0.002)


@pytest.mark.parametrize(
    ("grade", "diameter", "strength"),
    [
        ("2", "0.75 in", "55 ksi"), ("2", "0.875 in", "33 ksi"), ("5", "1 in", "85 ksi"),
        ("5", "1.125 in", "74 ksi"), ("8", "1.5 in", "120 ksi"), ("8.8", "16 mm", "580 MPa"),
        ("8.8", "18 mm", "600 MPa"), ("10.9", "12 mm", "830 MPa"), ("12.9", "12 mm", "970 MPa"),
    ],
)  # fmt: skip
def test_proof_strengths(grade: Grade, diameter: str, strength: str) -> None:
    """SAE J429; ISO 898-1."""
    assert proof_strength(grade, q(diameter)) == q(strength)


@pytest.mark.parametrize(
    ("text", "diameter", "pitch"),
    [
        ("7/16-20", "0.4375 in", "0.05 in"), ("7/16 - 20 UNF", "0.4375 in", "0.05 in"),
        ("#10-24", "0.190 in", "0.0416667 in"), ("10-32", "0.190 in", "0.03125 in"),
        (".375-16 UNC", "0.375 in", "0.0625 in"), ("M10", "10 mm", "1.5 mm"),
        ("1-8", "1 in", "0.125 in"), ("1 1/8-7", "1.125 in", "0.142857 in"),
        ("4-40", "0.112 in", "0.025 in"), ("#4-40", "0.112 in", "0.025 in"),
        ("m10 x 1.25", "10 mm", "1.25 mm"), ("M12×1.75", "12 mm", "1.75 mm"),
    ],
)  # fmt: skip
def test_threads_as_they_are_written(text: str, diameter: str, pitch: str) -> None:
    """#10 is 0.190 in: Speck, Mechanical Fastening, Joining and Assembly, p. 85."""
    read = read_thread(text)
    assert read.diameter == q(diameter)
    assert read.pitch.number(read.pitch.unit) == pytest.approx(
        q(pitch).number(read.pitch.unit), rel=1e-5
    )


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("3/8", "thread: “3/8” lacks its threads to the inch; write it as 3/8-16 or 3/8-24"),
        ("3/0-16", "thread: “3/0-16” divides by nothing; write it as 7/16-20"),
        ("7/16-0", "thread: “7/16-0” has no threads to the inch; write it as 7/16-20"),
        ("#20-24", "thread: “#20-24”: numbered threads end at #12; write it as 7/16-20 or M10x1.5"),
        ("M11", "thread: “M11” has no usual pitch; write it with one, such as M11x1"),
        ("M10x6", "thread: “M10x6”: that pitch is not of that diameter; check both figures"),
        ("#1-8", "thread: “#1-8”: that pitch is not of that diameter; check both figures"),
        ("3/8-99", "thread: “3/8-99”: that pitch is not of that diameter; check both figures"),
        ("bolt", "thread: “bolt” is no thread; write it as 7/16-20, #10-24 or M10x1.5"),
        ("", "thread: “” is no thread; write it as 7/16-20, #10-24 or M10x1.5"),
        ("M0", "thread: “M0” has no usual pitch; write it with one, such as M0x1"),
    ],
)  # fmt: skip
def test_what_is_no_thread_is_refused(text: str, message: str) -> None:
    with pytest.raises(FigureError) as refused:
        read_thread(text)
    assert str(refused.value) == message


def test_a_coarse_block_end_is_smaller_than_a_fine_nut_end() -> None:
    """10 to 11 % smaller."""
    for coarse, fine in (("7/16-14", "7/16-20"), ("1/2-13", "1/2-20")):
        areas = [read_thread(text).stress_area.number("in²") for text in (coarse, fine)]
        assert 1 - areas[0] / areas[1] == pytest.approx(0.11, abs=0.01)


def test_loads_need_no_unit_of_one_system() -> None:
    area = Quantity(q("36.6 mm²").in_("in²"), "in²")
    assert load_at(q("580 MPa"), area).number("N") == pytest.approx(21_228, rel=1e-3)
