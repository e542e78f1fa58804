"""What a backup says that it holds."""

import json
from collections.abc import Mapping

from snugset.journal.schema import ATTACHMENTS, FILE
from snugset.journal.shelf import is_id
from snugset.typed import Self
from snugset.values import dataclass

MANIFEST = "manifest.json"

_LONGEST_NAME = 200
"""Bytes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One file in the backup."""

    size: int
    """Bytes."""
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """The build, its chain's digest, and every file with its size and digest."""

    build: str
    """Its id."""
    records: int
    digest: str
    """The chain's, after the last record."""
    parts: Mapping[str, Part]
    """By name inside the backup."""

    def to_json(self) -> bytes:
        """Write it; the same bytes for the same content."""
        content = {
            "snugset": "backup/1",
            "build": self.build,
            "records": self.records,
            "digest": self.digest,
            "files": {
                name: {"bytes": part.size, "sha256": part.sha256}
                for name, part in self.parts.items()
            },
        }
        return json.dumps(content, indent=1, sort_keys=True).encode("ascii")

    @classmethod
    def from_json(cls, text: bytes) -> Self:
        """Read what `to_json` wrote; ValueError for anything else, unsafe names among it."""
        try:
            found = json.loads(text)
        except RecursionError as fault:
            raise ValueError("its manifest is no list of files") from fault
        match found:
            case {
                "snugset": "backup/1",
                "build": str(build),
                "records": int(records),
                "digest": str(digest),
                "files": dict(files),
            } if is_id(build) and FILE in files:
                parts = {name: _part(name, part) for name, part in files.items()}
                return cls(build=build, records=records, digest=digest, parts=parts)
        raise ValueError("its manifest is not one that Snugset writes")


def is_carried(name: str) -> bool:
    """Whether a file of this name, inside a build's folder, may go into a backup and out of it.

    The journal itself, or a file below the attachments: no way up, no hidden letter.
    """
    first, *rest = name.split("/")
    if not rest:
        return first == FILE
    return (
        first == ATTACHMENTS
        and name.isprintable()
        and "\\" not in name
        and len(name.encode()) <= _LONGEST_NAME
        and not {"", ".", ".."} & set(rest)
    )


def _part(name: str, found: object) -> Part:
    if not is_carried(name):
        raise ValueError(f"it holds a file with the unsafe name “{name[:60]}”")
    match found:
        case {"bytes": int(size), "sha256": str(digest)} if size >= 0:
            return Part(size=size, sha256=digest)
    raise ValueError("its manifest is not one that Snugset writes")
