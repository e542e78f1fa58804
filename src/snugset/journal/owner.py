"""Who has a build open."""

import json
import os

from snugset.typed import Self
from snugset.values import dataclass, names


@dataclass(frozen=True, slots=True)
class Owner:
    """The person and the program that hold a build."""

    person: str
    host: str
    pid: int
    since: str
    """When it was opened, RFC 3339 in UTC."""

    @classmethod
    def here(cls, *, person: str, since: str) -> Self:
        """Name this process on this machine; the clock is the caller's."""
        return cls(person=person, host=os.uname().nodename, pid=os.getpid(), since=since)

    def to_json(self) -> bytes:
        """One line of JSON, ASCII only."""
        return json.dumps({name: getattr(self, name) for name in names(self)}).encode("ascii")

    @classmethod
    def from_json(cls, text: bytes) -> Self | None:
        """Read what `to_json` wrote; None for anything else."""
        try:
            found = json.loads(text)
        except (ValueError, RecursionError):
            return None
        match found:
            case {"person": str(person), "host": str(host), "pid": int(pid), "since": str(since)}:
                return cls(person=person, host=host, pid=pid, since=since)
        return None

    def __str__(self) -> str:
        day, _, time = self.since.partition("T")
        since = f"{day} {time[:5]} UTC" if time else self.since
        return f"{self.person or 'somebody'} on {self.host} (process {self.pid}) since {since}"
