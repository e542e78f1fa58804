import pytest

from snugset.units import UNITS, UnitError, read, read_list, read_window


def refused(text: str, unit: str = "thou", *, kind: str | None = None) -> UnitError:
    with pytest.raises(UnitError) as caught:
        read(text, unit=unit, kind=kind)
    return caught.value


@pytest.mark.parametrize("word", ["kNm", "mN", "mNm", "nN", "°C", "cm", "ft", "ft/lb", "%"])
def test_a_unit_that_is_nearly_one_of_ours_is_not_taken_for_it(word: str) -> None:
    for form in UNITS:
        with pytest.raises(UnitError):
            read(f"22 {word}", unit=form)


@pytest.mark.parametrize(
    ("text", "unit", "code", "message", "place_and_fix"),
    [
        ("", "thou", "empty", "there is no figure; write one, such as 35 thou", (1, ())),
        ("17++18", "thou", "not-a-number", None, (4, ())),
        (
            "17+",
            "thou",
            "not-a-number",
            "“17+” ends in a plus; write what is to be added",
            (4, ("17",)),
        ),
        (
            "abc",
            "lbf·ft",
            "not-a-number",
            "“abc” is not a number; write it in digits, such as 22 lbf·ft",
            (1, ()),
        ),
        ("9**9**9", "thou", "not-a-number", None, (2, ())),
        ("1e9", "thou", "not-a-number", "“1e9” has an exponent; write all its digits", (2, ())),
        ("1E+9 mm", "thou", "not-a-number", None, (2, ())),
        ("nan", "thou", "not-a-number", None, (1, ())),
        ("inf", "thou", "not-a-number", None, (1, ())),
        ("-Infinity", "thou", "not-a-number", None, (1, ())),
        ("0x1F", "thou", "not-a-number", None, (3, ())),
        ("1_000", "thou", "not-a-number", None, (2, ())),
        ("１７", "thou", "not-a-number", None, (1, ())),
        ("٣٥ thou", "thou", "not-a-number", None, (1, ())),
        ("1/0 in", "thou", "not-a-number", None, (1, ())),
        ("11/2 in", "thou", "not-a-number", None, (1, ())),
        ("1 3/2 in", "thou", "not-a-number", None, (1, ())),
        ("(35)", "thou", "not-a-number", None, (1, ())),
        ("60-40", "thou", "not-a-number", None, (3, ())),
        (
            "17 18",
            "thou",
            "not-a-number",
            "“17 18” has two figures with nothing between them; write a plus to add them",
            (4, ("17 + 18",)),
        ),
        ("2 h 30 min", "h", "not-a-number", None, (5, ("2 h + 30 min",))),
        (
            "1 000 mm",
            "mm",
            "not-a-number",
            "“1 000 mm” has a space inside a number; write “1000 mm”",
            (3, ("1000 mm",)),
        ),
        ("1\u202f000\u202f000", "mm", "not-a-number", None, (3, ("1000000",))),
        ("25,4", "mm", "comma", "“25,4” has a comma; write “25.4”", (3, ("25.4",))),
        ("25,4 mm + 0,5 mm", "mm", "comma", None, (3, ("25.4 mm + 0.5 mm",))),
        (",035 in", "thou", "comma", None, (1, ("0.035 in",))),
        (
            "1,000",
            "N",
            "comma",
            "“1,000” has a comma; write “1000” or “1.000”",
            (2, ("1000", "1.000")),
        ),
        ("1,234.5", "N", "comma", None, (2, ("1234.5",))),
        ("1.234,5", "N", "comma", None, (6, ("1234.5",))),
        ("22, 45", "N", "comma", "“22, 45” has a comma; write one figure", (3, ())),
        (
            "5 furlongs",
            "thou",
            "unit",
            "“furlongs” is not a unit known here; write in, thou or mm",
            (3, ()),
        ),
        ("22 ft/lb", "lbf·ft", "unit", None, (4, ("22 lbf·ft",))),
        ("10 m", "min", "unit", None, (4, ("10 min",))),
        ("17 mm + 18", "thou", "unit", None, (9, ())),
        ("17 + 18 mm + 3 thou", "thou", "unit", None, (1, ())),
        (
            "22 N·m",
            "thou",
            "kind",
            "“22 N·m” is a torque, and a length is asked; write in, thou or mm",
            (4, ()),
        ),
        ("22 lbs", "lbf·ft", "kind", None, (4, ("22 lbf·ft", "22 lbf·in"))),
        ("1.6 in", "", "kind", None, (5, ("1.6",))),
        (
            "-5",
            "thou",
            "negative",
            "“-5” is below zero, which this cannot be; leave the minus out",
            (1, ()),
        ),
        ("−5 mm", "thou", "negative", None, (1, ())),
        ("18+-17", "thou", "negative", None, (4, ())),
        ("1234567890123", "thou", "too-long", None, (1, ())),
        ("0.1234567890123", "thou", "too-long", None, (1, ())),
        ("1/12345 in", "thou", "too-long", None, (1, ())),
        ("1+" * 12 + "1", "thou", "too-long", None, (25, ())),
        ("1" + " " * 120, "thou", "too-long", None, (None, ())),
    ],
)
def test_refusals_say_what_is_wrong_and_the_fix(
    text: str,
    unit: str,
    code: str,
    message: str | None,
    place_and_fix: tuple[int | None, tuple[str, ...]],
) -> None:
    error = refused(text, unit)
    assert (error.code, (error.column, error.suggest)) == (code, place_and_fix)
    assert message is None or (error.message == message == str(error))


@pytest.mark.parametrize("text", ["22,45", "9,6; 9,62", "1,000", "1,234,567", "1,234.5", "22, 4,5"])
def test_a_list_never_takes_a_comma_that_may_be_a_decimal_one(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_list(text, unit="mm")
    assert caught.value.code == "comma"


def test_suggestions_for_a_list() -> None:
    with pytest.raises(UnitError) as caught:
        read_list("110, 22,45 lbf·ft", unit="lbf·ft")
    assert caught.value.suggest == ("110, 22, 45 lbf·ft", "110, 22.45 lbf·ft")
    assert caught.value.column == 6


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("22,", "empty"),
        (", 22", "empty"),
        ("22 N·m, 45", "unit"),
        ("1," + " 1," * 59 + " 1", "too-long"),
    ],
)
def test_lists_refused(text: str, code: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_list(text, unit="lbf·ft")
    assert caught.value.code == code


def test_window_that_does_not_rise_suggests_the_other_way() -> None:
    with pytest.raises(UnitError) as caught:
        read_window("60-20 thou", unit="in")
    assert (caught.value.code, caught.value.suggest) == ("window", ("20 thou to 60 thou",))
    for same in ("20 to 20 thou", "0.5 in to 500 thou"):
        with pytest.raises(UnitError, match="does not rise") as caught:
            read_window(same, unit="in")
        assert (caught.value.code, caught.value.suggest) == ("window", ())
    with pytest.raises(UnitError, match="is one figure, and a low and a high end are asked"):
        read_window("20", unit="thou")


def test_a_field_that_contradicts_itself_is_refused() -> None:
    assert refused("35", "furlong").code == "unit"
    assert refused("35", "thou", kind="torque").code == "kind"
    assert refused("35", "", kind="speed").code == "kind"


def test_messages_and_suggestions_cannot_steer_a_terminal() -> None:
    for text in (
        "5 \x1b[31m",
        "1 000 \x1b[2J",
        "17 18 \x07",
        "25,4 \x1b]0;x\x07",
        "\x1b[31m",
        "5 a\u202eb",
    ):
        error = refused(text)
        assert error.message.isprintable()
        assert all(fix.isprintable() for fix in error.suggest)
