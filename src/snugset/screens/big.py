"""Digits and letters made of half blocks, for a reader a metre away; of any whole size."""

from collections.abc import Sequence

_DRAWN = {
    "0": "### #.# #.# #.# ###", "1": ".#. ##. .#. .#. ###", "2": "### ..# ### #.. ###",
    "3": "### ..# .## ..# ###", "4": "#.# #.# ### ..# ..#", "5": "### #.. ### ..# ###",
    "6": "### #.. ### #.# ###", "7": "### ..# ..# .#. .#.", "8": "### #.# ### #.# ###",
    "9": "### #.# ### ..# ###", "A": ".#. #.# ### #.# #.#", "B": "##. #.# ##. #.# ##.",
    "C": ".## #.. #.. #.. .##", "D": "##. #.# #.# #.# ##.", "E": "### #.. ##. #.. ###",
    "F": "### #.. ##. #.. #..", "G": ".## #.. #.# #.# .##", "H": "#.# #.# ### #.# #.#",
    "I": "### .#. .#. .#. ###", "J": "..# ..# ..# #.# .#.", "K": "#.# #.# ##. #.# #.#",
    "L": "#.. #.. #.. #.. ###", "M": "#...# ##.## #.#.# #...# #...#",
    "N": "#..# ##.# #.## #..# #..#", "O": ".##. #..# #..# #..# .##.",
    "P": "##. #.# ##. #.. #..", "Q": ".##. #..# #..# #.## .###", "R": "##. #.# ##. #.# #.#",
    "S": ".## #.. .#. ..# ##.", "T": "### .#. .#. .#. .#.", "U": "#.# #.# #.# #.# ###",
    "V": "#.# #.# #.# #.# .#.", "W": "#...# #...# #.#.# ##.## #...#",
    "X": "#.# #.# .#. #.# #.#", "Y": "#.# #.# .#. .#. .#.", "Z": "### ..# .#. #.. ###",
    ".": ". . . . #", ",": ".. .. .. .# #.", ":": ". # . # .", ";": ".. .# .. .# #.",
    "-": "... ... ### ... ...", "–": "... ... ### ... ...", "−": "... ... ### ... ...",
    "+": "... .#. ### .#. ...", "/": "..# ..# .#. #.. #..", "*": "... #.# .#. #.# ...",
    "=": "... ### ... ### ...", "(": ".# #. #. #. .#", ")": "#. .# .# .# #.",
    "°": "## ## .. .. ..", "·": ". . # . .", "'": "# # . . .", '"': "#.# #.# ... ... ...",
    "!": "# # # . #", "?": "##. ..# .#. ... .#.", "%": "#.# ..# .#. #.. #.#",
    "±": ".#. ### .#. ... ###", "@": ".### #..# #.## #... .###", "#": "#.# ### #.# ### #.#",
    "…": "..... ..... ..... ..... #.#.#", "$": ".## ##. .#. .## ##.", " ": ".. .. .. .. ..",
    "_": "... ... ... ... ###", "<": "..# .#. #.. .#. ..#", ">": "#.. .#. ..# .#. #..",
}  # fmt: skip
"""Each sign as five rows of dots."""
_UNKNOWN = "#.#.# .#.#. #.#.# .#.#. #.#.#"
"""Stands for a sign that has no drawing; what was typed is in the field as it is."""
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
_DOTS = 5
LARGEST = 6
"""The largest size: more is no easier to read."""


def high(size: int) -> int:
    """Give how many lines a size takes: two dots stand in a cell."""
    return (_DOTS * size + 1) // 2


def wide(words: str, size: int) -> int:
    """Give how many cells a text takes."""
    dots = [len(_rows(sign)[0]) for sign in words]
    return size * (sum(dots) + max(0, len(dots) - 1))


def draw(words: str, size: int) -> list[str]:
    """Draw a text in lines that are all as wide; small letters are drawn as capitals."""
    signs = [_rows(sign) for sign in words]
    dots = [
        [dot == "#" for dot in ".".join(sign[row] for sign in signs) for _ in range(size)]
        for row in range(_DOTS)
        for _ in range(size)
    ]
    if len(dots) % 2:
        dots.append([False] * (len(dots[0]) if dots else 0))
    return [
        "".join(_HALVES[pair] for pair in zip(upper, lower, strict=True))
        for upper, lower in zip(dots[::2], dots[1::2], strict=True)
    ]


def fitting(words: str, width: int, height: int) -> int:
    """Give the largest size in which a text fits; 0 where none does."""
    return next(
        (n for n in range(LARGEST, 0, -1) if high(n) <= height and wide(words, n) <= width), 0
    )


def broken(words: str, width: int, size: int) -> list[str]:
    """Break a text between words so that each line fits; a longer word is cut."""
    lines: list[str] = []
    line = ""
    for each in words.split():
        word = each
        while len(word) > 1 and wide(word, size) > width:
            word = word[:-2] + "…" if word.endswith("…") else word[:-1] + "…"
        longer = f"{line} {word}".strip()
        if line and wide(longer, size) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines


def beside(drawn: Sequence[Sequence[str]], gap: int) -> list[str]:
    """Set several drawings side by side, their last lines level."""
    tall = max(map(len, drawn))
    filled = [
        [*[" " * len(each[0])] * (tall - len(each)), *each] if each else [""] * tall
        for each in drawn
    ]
    return [(" " * gap).join(parts) for parts in zip(*filled, strict=True)]


def _rows(sign: str) -> list[str]:
    return _DRAWN.get(sign.upper(), _UNKNOWN).split(" ")
