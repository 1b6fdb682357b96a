"""The manual as text: its pages, the places in them, and a search for words. No Qt.

A place is "page" or "page#anchor". A heading is an anchor, and so are the bold words that a paragraph begins with.
"""

from __future__ import annotations

import re
from functools import cache

import msgspec

from app.document.examples import demonstrations
from app.printing.sheet_kinds import SHEET_KINDS
from app.ui.apostrophes import curly
from assets import help_text

NAMES = (
    "job", "measuring", "sketching", "placing", "hardware", "findings", "sheets", "old-holes", "files", "sources",
    "words",
)  # fmt: skip
"""The pages in their order."""
KEYS = "words#keys"
"""Where the shortcuts are listed."""
MOST_HITS = 14

_IMAGE = re.compile(r"!\[([^\]]*)\]\(([^)]*)\)")
_SMALL = re.compile(r"!\[[^\]]*\]\((?:icon|state)-[^)]*\) *")
_LINK = re.compile(r"(?<!!)\[([^\]]+)\]\(([^)]+)\)")
_LEAD = re.compile(r"^\s*(?:[-*>]|\d+\.)\s+")
_BOLD = re.compile(r"^\*\*(.+?)\*\*")


class Part(msgspec.Struct, frozen=True):
    """A piece of a page. Level 1 is the page, 2 and 3 are headings, 4 is a paragraph that begins with bold words."""

    place: str
    level: int
    title: str
    text: str


class Page(msgspec.Struct, frozen=True):
    """One page, in Markdown."""

    name: str
    text: str

    @property
    def title(self) -> str:
        """Its heading."""
        return self.parts[0].title

    @property
    def parts(self) -> tuple[Part, ...]:
        """Its pieces, in order."""
        return _parts(self)

    @property
    def places(self) -> frozenset[str]:
        """Places on this page that a link may name."""
        return frozenset(part.place for part in self.parts)

    @property
    def pictures(self) -> tuple[str, ...]:
        """Names of the pictures that it shows."""
        return tuple(match[2] for match in _IMAGE.finditer(self.text))

    @property
    def links(self) -> tuple[str, ...]:
        """Places that its links lead to."""
        return tuple(match[2] for match in _LINK.finditer(self.text))


def manual(keys: str = "") -> tuple[Page, ...]:
    """Return the pages. The last one ends with ``keys``: the shortcuts, in Markdown."""
    texts = [help_text(name).replace("{sheets}", _sheets()).replace("{boats}", _boats()) for name in NAMES]
    titles = [text.partition("\n")[0].removeprefix("# ") for text in texts]
    on = (f"[Next: {title}]({name})" for name, title in zip(NAMES[1:], titles[1:], strict=True))
    return tuple(Page(name, f"{text}\n{end}\n") for name, text, end in zip(NAMES, texts, (*on, keys), strict=True))


def _sheets() -> str:
    """Return the list of all sheets in Markdown, each with what it is for."""
    return "\n".join(f"- **{kind.title}.** {kind.says}" for kind in SHEET_KINDS.values())


def _boats() -> str:
    """Return the list of all demonstration boats in Markdown, each with its notes."""
    return "\n".join(f"- **{boat.name}.** {curly(boat.notes)}" for boat in demonstrations().values())


def slug(words: str) -> str:
    """Return a heading as an anchor: "How high the motor hangs" is how-high-the-motor-hangs."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")


def page_of(place: str) -> str:
    """Return the page of a place."""
    return place.partition("#")[0]


def anchor_of(place: str) -> str:
    """Return a place's anchor, "" for the page's top."""
    return place.partition("#")[2]


def search(pages: tuple[Page, ...], words: str) -> tuple[Part, ...]:
    """Return the pieces that have all of ``words``. Pieces with all of them in the title come first."""
    wanted = words.lower().split()
    if not wanted:
        return ()
    parts = [part for page in pages for part in page.parts]
    hits = [part for part in parts if all(word in f"{part.title} {part.text}".lower() for word in wanted)]
    hits.sort(key=lambda part: not all(word in part.title.lower() for word in wanted))
    return tuple(hits[:MOST_HITS])


@cache
def _parts(page: Page) -> tuple[Part, ...]:
    made: list[tuple[str, int, str, list[str]]] = []
    for line in page.text.splitlines():
        head = re.match(r"(#+) (.+)", line)
        bold = _BOLD.match(_IMAGE.sub("", _LEAD.sub("", line)).strip())
        if head and len(head[1]) == 1:
            made.append((page.name, 1, _plain(head[2]), []))
        elif head:
            made.append((f"{page.name}#{slug(head[2])}", len(head[1]), _plain(head[2]), []))
        elif bold and made:
            rest = line[line.index(bold[0]) + len(bold[0]) :]
            made.append((f"{page.name}#{slug(bold[1])}", 4, _plain(bold[1]).rstrip(".:"), [_plain(rest)]))
        elif made and line.strip():
            made[-1][3].append(_plain(line))
    return tuple(Part(place, level, title, " ".join(text)) for place, level, title, text in made)


def _plain(line: str) -> str:
    """Return a line without its marks."""
    bare = _LINK.sub(r"\1", _IMAGE.sub(r"\1", _SMALL.sub("", _LEAD.sub("", line))))
    return re.sub(r"\*+|`|\\", "", bare).replace("|", " ").strip()
