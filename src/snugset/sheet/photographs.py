"""The photographs that stand on record; their bytes are in the build's folder."""

from snugset.sheet.entries import View
from snugset.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """One photograph, where it was taken up."""

    name: str
    """Of the copy, below ``attachments`` in the build's folder."""
    digest: str
    """SHA-256 of its bytes, in hexadecimal."""
    media: str
    """Its media type, ``image/jpeg``."""
    size: int
    """Bytes."""
    caption: str
    address: str
    where: str
    phase: str
    at: str
    person: str


def photographs(view: View) -> tuple[Photograph, ...]:
    """Give every photograph that was not taken back, in order."""
    return tuple(
        Photograph(
            name=each.name,
            digest=each.digest,
            media=each.media,
            size=each.size,
            caption=each.caption,
            address=str(each.address),
            where=view.where(each.address.step, each.address.place),
            phase=view.phase(str(each.address)),
            at=each.at,
            person=each.person,
        )
        for each in view.state.photographs
    )
