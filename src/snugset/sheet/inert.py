"""Text of people and files put into Markdown so that nothing of it acts.

Escapes are those of CommonMark 0.31 §2.4 and of its tables, strikethrough and links in GitHub
Flavored Markdown 0.29; all the rest stays as it was typed, so that it reads as plain text.
"""

import re

from snugset.files.characters import shown

_ACTIVE = re.compile(
    r"[\\`*_\[\]<&|~#$]"  # emphasis, code, links, HTML, entities, tables, struck out, maths
    r"|(?<=[A-Za-z]):(?=\S)"  # http://, mailto:
    r"|(?<=\S)@(?=\S)"  # addresses of mail
    r"|(?<=\S)\.(?=[^\W\d_])"  # www.x, x.com, x+.com
)
_OPENING = re.compile(r"[-+=:>](?=[-+=:|>\s]|$)|>|[0-9]{1,9}(?=[.)](?:\s|$))")


def flat(text: str) -> str:
    """Put a text on one line: white space becomes one space, what cannot be seen is marked."""
    return " ".join(shown(text).split())


def inert(text: str) -> str:
    """Escape a text for a paragraph, a list or a table's cell; one line, whatever it was."""
    return _ACTIVE.sub(lambda found: f"\\{found[0]}", flat(text))


def guarded(line: str) -> str:
    """Escape what would act because it begins a line: a list, a quotation, a rule, a heading."""
    found = _OPENING.match(line)
    if found is None:
        return line
    return f"{found[0]}\\{line[found.end() :]}" if found[0].isdigit() else f"\\{line}"
