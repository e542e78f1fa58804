"""Where the server listens decides whether a device must be paired."""

import logging
import socket
from collections.abc import Callable
from typing import Self

import pytest

from snugset.serving import run
from snugset.serving.site import Site


class Listening:
    """Stands for a socket on an address that this machine need not have."""

    def __init__(self, address: str) -> None:
        self._address = address

    def getsockname(self) -> tuple[str, int]:
        return self._address, 8427

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        return


@pytest.mark.parametrize(
    ("address", "asked", "code"),
    [
        ("127.0.0.1", False, False),
        ("127.0.0.1", True, True),
        ("::1", False, False),
        ("192.0.2.20", False, True),
        ("10.0.0.7", False, True),
        ("169.254.1.1", False, True),
        ("2001:db8::7", False, True),
        ("0.0.0.0", False, True),  # noqa: S104 - looked at, not listened on
        ("::", False, True),
    ],
)
def test_whoever_is_not_on_this_machine_needs_a_code(
    monkeypatch: pytest.MonkeyPatch, address: str, *, asked: bool, code: bool
) -> None:
    served: list[Site] = []

    async def noted(
        site: Site, _on: socket.socket, _show: Callable[[str], None], _faults: logging.Handler
    ) -> None:
        served.append(site)

    monkeypatch.setattr(run, "listen", lambda _host, _port: Listening(address))
    monkeypatch.setattr(run, "_serve", noted)
    run.serve(
        ("program",),
        host=address,
        port=8427,
        sessions=1,
        paired=asked,
        show=print,
        fault=print,
    )
    (site,) = served
    assert (site.pairing is not None) == code
    assert site.names == (), "an address is ours without being named"
