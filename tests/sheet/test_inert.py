"""Text that people typed does nothing in Markdown, and is read as it was typed."""

from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from snugset.sheet.inert import flat, guarded, inert
from snugset.sheet.layout import items, paragraph, table

COMMON = MarkdownIt("commonmark")
WIDER = MarkdownIt("gfm-like")
"""Tables, struck-out text and links made of bare addresses, as code hosts do it."""

HOSTILE = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "![x](http://x.example/a.png) [y](javascript:alert(1))",
    "[y]: http://x.example/",
    "https://x.example/a?b=c www.x.com x.com mailto:a@x.com a@x.com",
    "`code` ``more`` **bold** _slanted_ ~~out~~ $x$ &lt;b&gt; &#60;",
    "a | b | c",
    "--- | ---",
    "# heading",
    "- item",
    "+ item",
    "12. item",
    "3) item",
    "> quoted",
    "---",
    "===",
    "***",
    "```",
    "~~~",
    "    indented",
    "\\",
    "end\\",
    "\\|",
    "<!-- -->",
    "line\none\r\ntwo\tthree\u2028four",
    "\u202egnihtemos\u202c \x1b[31mred\x07",
    ":-- | --:",
)
LETTERS = "ab1.,;:!?-+=>#*_`~|\\<&$@[](){}\"'/^ \n"


class Reader(HTMLParser):
    """Gathers the text of a rendering and the tags that carry it."""

    def __init__(self) -> None:
        super().__init__()
        self.text = ""
        self.tags: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        del attrs
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


def read(renderer: MarkdownIt, lines: list[str]) -> tuple[str, list[str]]:
    reader = Reader()
    reader.feed(renderer.render("\n".join(lines)))
    reader.close()
    return flat(reader.text), reader.tags


def as_typed(text: str) -> str:
    return flat(text).strip()


@pytest.mark.parametrize("renderer", [COMMON, WIDER])
@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_but_text(renderer: MarkdownIt, text: str) -> None:
    assert read(renderer, paragraph(f"x {inert(text)}")) == (as_typed(f"x {flat(text)}"), ["p"])
    assert read(renderer, items([inert(text)])) == (as_typed(text), ["ul", "li"])


@given(st.text(alphabet=LETTERS, min_size=1, max_size=60))
def test_any_text_is_but_text_in_a_paragraph(text: str) -> None:
    for renderer in (COMMON, WIDER):
        shown, tags = read(renderer, paragraph(inert(text)))
        assert shown == as_typed(text)
        assert tags in (["p"], [])


@given(st.text(alphabet=LETTERS, min_size=1, max_size=300))
def test_folding_makes_no_list_heading_or_quotation(text: str) -> None:
    shown, tags = read(COMMON, items([f"note: {inert(text)}"]))
    assert shown == as_typed(f"note: {text}")
    assert tags == ["ul", "li"]


@given(st.text(alphabet=LETTERS, max_size=20), st.text(alphabet=LETTERS, max_size=20))
def test_a_cell_stays_in_its_column(first: str, second: str) -> None:
    lines = table(("A", "B"), [(inert(f"x{first}"), inert(f"y{second}"))])
    shown, tags = read(WIDER, lines)
    assert tags.count("td") == 2
    assert set(tags) == {"table", "thead", "tbody", "tr", "th", "td"}
    assert shown == as_typed(" ".join(("A B", flat(f"x{first}"), flat(f"y{second}"))))


def test_plain_words_stay_as_they_are() -> None:
    plain = "shop leaflet (second edition), p. 3; 17+18 thou - at 10:30, bridge 4's ± 0.5 in!"
    assert inert(plain) == plain


def test_a_line_that_would_begin_something_is_guarded() -> None:
    assert guarded("- x") == "\\- x"
    assert guarded("12. x") == "12\\. x"
    assert guarded("> x") == "\\> x"
    assert guarded("-0.5 thou") == "-0.5 thou"
    assert guarded("12.5 in") == "12.5 in"


def test_what_cannot_be_seen_is_marked() -> None:
    assert inert("a\u202eb\x00c") == "a\ufffdb\ufffdc"
