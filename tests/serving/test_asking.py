"""Which names are ours, and which page a request may come from."""

import pytest

from snugset.serving.asking import is_loopback, is_ours, is_own_page, named


@pytest.mark.parametrize(
    ("host", "address", "names"),
    [
        ("127.0.0.1:8427", "127.0.0.1", ()),
        ("LocalHost:8427", "127.0.0.1", ()),
        ("[::1]:8427", "::1", ()),
        ("192.0.2.20:8427", "192.0.2.20", ()),
        ("[2001:db8::7]:8427", "2001:db8::7", ()),
        ("barn.example:8427", "192.0.2.20", ("barn.example",)),
    ],
)
def test_the_address_that_was_reached_and_a_name_that_was_given_are_ours(
    host: str, address: str, names: tuple[str, ...]
) -> None:
    assert is_ours(host, address=address, port=8427, names=names)


@pytest.mark.parametrize(
    ("host", "address"),
    [
        ("", "127.0.0.1"),
        ("127.0.0.1", "127.0.0.1"),
        ("127.0.0.1:8428", "127.0.0.1"),
        ("127.0.0.2:8427", "127.0.0.1"),
        ("0.0.0.0:8427", "127.0.0.1"),
        ("rebound.example:8427", "127.0.0.1"),
        ("localhost.rebound.example:8427", "127.0.0.1"),
        ("localhost:8427", "192.0.2.20"),
        ("192.0.2.20:8427@rebound.example", "192.0.2.20"),
        ("rebound.example:8427", "192.0.2.20"),
        ("192.0.2.21:8427", "192.0.2.20"),
    ],
)
def test_any_other_name_is_not(host: str, address: str) -> None:
    assert not is_ours(host, address=address, port=8427)


def test_the_port_that_browsers_leave_out_may_be_left_out() -> None:
    for host in ("192.0.2.20", "192.0.2.20:80"):
        assert is_ours(host, address="192.0.2.20", port=80)
    assert named("192.0.2.20", 80) == "192.0.2.20"
    assert named("2001:db8::7", 8427) == "[2001:db8::7]:8427"


@pytest.mark.parametrize(
    ("origin", "needed", "own"),
    [
        ("http://192.0.2.20:8427", True, True),
        ("HTTP://192.0.2.20:8427", True, True),
        (None, False, True),
        (None, True, False),
        ("null", False, False),
        ("", False, False),
        ("https://192.0.2.20:8427", True, False),
        ("http://192.0.2.20", True, False),
        ("http://192.0.2.20:8427.rebound.example", True, False),
        ("http://rebound.example", False, False),
    ],
)
def test_a_request_comes_from_our_page_or_is_only_looking(
    origin: str | None, *, needed: bool, own: bool
) -> None:
    assert is_own_page(origin, "192.0.2.20:8427", needed=needed) == own


@pytest.mark.parametrize(
    ("address", "only_here"),
    [
        ("127.0.0.1", True),
        ("127.8.9.1", True),
        ("::1", True),
        ("0.0.0.0", False),  # noqa: S104 - looked at
        ("::", False),
        ("192.0.2.20", False),
        ("localhost", False),
    ],
)
def test_only_this_machine_reaches_a_loopback_address(address: str, *, only_here: bool) -> None:
    assert is_loopback(address) == only_here
