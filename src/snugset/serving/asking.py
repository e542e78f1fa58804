"""Who asks: by which name this server was called, and from which page.

A page of somebody else can make a browser call any address, by a name that it had point there. So
the name must be one that is ours, and a request that does something must come from our own page.
"""

from collections.abc import Collection
from ipaddress import ip_address

_LEFT_OUT = 80
"""The port that browsers leave out."""


def is_loopback(address: str) -> bool:
    """Tell whether only this machine can reach an address; False for what is no address."""
    return is_address(address) and ip_address(address).is_loopback


def named(address: str, port: int) -> str:
    """Give an address and port as they stand in a browser's line."""
    bare = _bare(address)
    return bare if port == _LEFT_OUT else f"{bare}:{port}"


def is_ours(host: str, *, address: str, port: int, names: Collection[str] = ()) -> bool:
    """Tell whether a Host header names this server.

    `address` and `port` are where the connection came in; `names` are what the builder called it.
    An address cannot be made to point elsewhere, so the one that was reached is always ours; a
    name is ours only if it was given, or is the one every machine calls itself.
    """
    ours = {address, *names}
    if is_loopback(address):
        ours.add("localhost")
    return any(
        host.lower() in {named(name, port).lower(), f"{_bare(name)}:{port}".lower()}
        for name in ours
    )


def is_own_page(origin: str | None, host: str, *, needed: bool) -> bool:
    """Tell whether an Origin header says: from a page of ours, reached by the same name.

    Browsers always send it where it is `needed`.
    """
    if origin is None:
        return not needed
    return origin.lower() == f"http://{host.lower()}"


def is_address(host: str) -> bool:
    """Tell whether it is an address and no name."""
    try:
        ip_address(host)
    except ValueError:
        return False
    return True


def _bare(address: str) -> str:
    return f"[{address}]" if ":" in address else address
