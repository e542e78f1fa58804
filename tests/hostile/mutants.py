"""Files of strangers: what is shipped and what the documents show, spoiled in a thousand ways."""

import random
import re
from pathlib import Path
from typing import NamedTuple

from snugset.shipped import demo, engines, procedures


class Files(NamedTuple):
    """The files that a build is begun and played with."""

    procedure: str
    shared: dict[str, str]
    engine: str
    specs: str
    answers: str


def shipped() -> Files:
    """Give the demo's files, by what they are."""
    procedure = procedures()["inline-six-bridged-hydraulic"]
    answers = demo()
    beside = sorted((procedure.parent / "shared").glob("*.yaml"))
    return Files(
        procedure=procedure.read_text("utf-8"),
        shared={path.stem: path.read_text("utf-8") for path in beside},
        engine=engines()["barn-pump-six"].read_text("utf-8"),
        specs=answers.with_name("specs.yaml").read_text("utf-8"),
        answers=re.sub(
            r"^(procedure|engine|specs): .*$",
            r"\1: \1.yaml",
            answers.read_text("utf-8"),
            flags=re.MULTILINE,
        ),
    )


PIECES = (
    *("&a ", "*a", "!t ", "---\n", "...\n", "? ", ": ", "- ", "[", "]", "{", "}", ",", "'", '"'),
    *("|", ">", "#", "%", "@", "\t", "\n", "\r", "  ", "\0", "\x1b]0;x\x07", "\x9b31m", "\u202e"),
    *("\ufeff", "\u2028", "\\u202e", "\\x1b[2J", "\\0", "9" * 400, "-1", "1e999", "nan", "½", "٣"),
    *("~", "null", "<<: ", "yes", "[]", "{}", '""', "9**9**9", "[bold]x[/]", "<script>", "../../x"),
    *("{figure.head-stages}", "{place}", "{", "0", "00", "-0", "1/3", "2000000000", "0.0000001"),
    *("head", "all", "each: x", "rounds: y", "use: coolant", "if: changed anything", "1 thou", "d"),
)
WORDS = (
    *("0", "-1", "1", "24", "25", "200", "999999999", "9" * 12, "0.000000000001", "1/3", "none"),
    *("[]", "{}", "[a, a]", "{a: b}", "yes", "no", "head", "1I", "1", "clockwise", "stud", "each"),
    *("0 in", "1000000 in", "0 deg", "719 deg", "0 d", "999999999 d", "1..2 in", "1, 2, 3 lbf·ft"),
    *(
        '"\\e[31m"',
        '"\\u202e"',
        '"[red]"',
        "x" * 500,
        "1/2-20 UNF",
        "IVO 0 IVC 0 EVO 0 EVC 0 at seat",
    ),
)
"""What a field may be given instead."""
_LINE = re.compile(r"^( *(?:- )?[a-z.-]+: )(.*)$")


def mutant(rng: random.Random, text: str) -> str:
    """Spoil a text in one to four places: a field's value, a line, some characters."""
    for _ in range(rng.randint(1, 4)):
        lines = text.split("\n")
        number = rng.randrange(len(lines))
        match rng.randrange(8):
            case 0 | 1:
                found = _LINE.match(lines[number])
                if found:
                    lines[number] = found[1] + rng.choice(WORDS)
                text = "\n".join(lines)
            case 2:
                other = rng.randrange(len(lines))
                lines[number], lines[other] = lines[other], lines[number]
                text = "\n".join(lines)
            case 3:
                del lines[number : number + rng.randint(1, 8)]
                text = "\n".join(lines)
            case 4:
                lines.insert(rng.randrange(len(lines) + 1), lines[number])
                text = "\n".join(lines)
            case 5:
                lines[number] = rng.choice(["  ", "    "]) + lines[number]
                text = "\n".join(lines)
            case 6:
                at = rng.randint(0, len(text))
                text = text[:at] + rng.choice(PIECES) + text[at:]
            case _:
                numbers = list(re.finditer(r"\d+(?:\.\d+)?", text))
                if numbers:
                    found = rng.choice(numbers)
                    text = text[: found.start()] + rng.choice(WORDS) + text[found.end() :]
    return text


def written(rng: random.Random, text: str) -> bytes:
    """Put a text into bytes, now and then in a way that no text editor here writes it."""
    match rng.randrange(30):
        case 0:
            return text.encode("utf-16", "replace")
        case 1:
            return b"\xef\xbb\xbf" + text.encode("utf-8", "replace")
        case 2:
            spoiled = bytearray(text.encode("utf-8", "replace"))
            for _ in range(3):
                spoiled[rng.randrange(len(spoiled))] = rng.randrange(256)
            return bytes(spoiled)
        case 3:
            whole = text.encode("utf-8", "replace")
            return whole[: rng.randrange(len(whole) + 1)]
    return text.encode("utf-8", "surrogatepass")


def put(folder: Path, files: Files) -> Path:
    """Write files as they belong together; the answers file."""
    (folder / "shared").mkdir(exist_ok=True)
    for name, text in files.shared.items():
        (folder / "shared" / f"{name}.yaml").write_text(text, "utf-8")
    for name in ("procedure", "engine", "specs", "answers"):
        (folder / f"{name}.yaml").write_text(getattr(files, name), "utf-8")
    return folder / "answers.yaml"
