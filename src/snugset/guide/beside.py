"""What is put on record beside the work: who goes on, and what was photographed."""

from snugset.guide.address import Address
from snugset.guide.answer import Answer
from snugset.guide.people import LONGEST, folded
from snugset.guide.ruling import Decision, Ruling, stop

HANDOVER = Address("handover")
"""Where a handover may be said whatever is asked: the words of a source are not read there."""


def hand_over(at: Address, answer: Answer) -> Decision:
    """Record that another person goes on from here; Stop where it is nobody, or nobody else."""
    name = " ".join(answer.text.split())
    if not name:
        stop("empty", "Type the name of who goes on after the word person.")
    if len(name) > LONGEST:
        stop("too-long", f"That is {len(name)} letters; a person's name has {LONGEST} at the most.")
    if folded(name) == folded(answer.person):
        stop("nobody-else", f"{name} answers already.")
    ruling = Ruling(answer, at)
    ruling.add("handover", {"at": str(at), "from": answer.person, "to": name})
    ruling.said.append(f"From here on {name} answers.")
    found = ruling.decision()
    return Decision(events=found.events, said=found.said, person=name)


def photograph(at: Address, answer: Answer) -> Decision:
    """Record a photograph that the shell has read; Stop where it has not yet."""
    if not answer.text:
        stop("empty", "Type the path of the photograph after the word photo, then its caption.")
    photo = answer.photo
    if photo is None:
        stop("photo-unread", "Enter reads the file and copies it into the build.")
    ruling = Ruling(answer, at)
    ruling.add(
        "photograph",
        {
            "at": str(at),
            "name": photo.name,
            "digest": photo.digest,
            "media": photo.media,
            "size": photo.size,
            "caption": photo.caption,
        },
    )
    ruling.said.append(f"Copied into the build: {photo.media}, {photo.size / 1e6:.1f} MB.")
    return ruling.decision()
