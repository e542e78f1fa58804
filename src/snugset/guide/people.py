"""Who works on a build: initials that nobody shares, and whether two names are one person."""

from collections.abc import Iterable, Mapping

LONGEST = 120
"""Letters of a person's name."""


def folded(name: str) -> str:
    """Give a name as it is compared: its letters, whatever their case and spacing."""
    return " ".join(name.casefold().split())


def initials(names: Iterable[str]) -> Mapping[str, str]:
    """Give each name its initials, unique among them, in the order in which they came.

    One letter a word, three at the most; where that is taken, more of the last word's letters, then
    a number. Whoever came first keeps theirs, so they do not change when somebody joins.
    """
    found: dict[str, str] = {}
    by_person: dict[str, str] = {}
    for name in names:
        person = folded(name)
        if person not in by_person:
            by_person[person] = _free(person, set(by_person.values()))
        found.setdefault(name, by_person[person])
    return found


def _free(person: str, taken: set[str]) -> str:
    words = ["".join(filter(str.isalnum, word)) for word in person.split()]
    words = [word for word in words if word][:3] or ["p"]
    short = "".join(word[0] for word in words).upper()
    last = words[-1]
    for end in range(1, min(len(last), 4) + 1):
        candidate = short + last[1:end].upper()
        if candidate not in taken:
            return candidate
    number = 2
    while f"{short}{number}" in taken:
        number += 1
    return f"{short}{number}"
