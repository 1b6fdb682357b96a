"""How wide a text is, and whether the font can write it: read from the shipped fonts themselves.

Source of the tables: OpenType specification, chapters head, hhea, hmtx and cmap (format 4).
"""

from __future__ import annotations

import struct
from bisect import bisect_left
from functools import cache, lru_cache

import assets


def font_name(bold: bool = False, italic: bool = False, condensed: bool = False) -> str:
    """Return the shipped font's file name, without its ending."""
    style = ("Bold" if bold else "") + ("Oblique" if italic else "")
    return "DejaVuSans" + ("Condensed" if condensed else "") + (f"-{style}" if style else "")


class Face:
    """A font's widths, looked up glyph by glyph: reading the whole map would take longer than the sheet needs it for."""

    def __init__(self, data: bytes) -> None:
        count = struct.unpack_from(">H", data, 4)[0]
        entries = (struct.unpack_from(">4s3L", data, 12 + 16 * i) for i in range(count))
        table = {tag: offset for tag, _sum, offset, _length in entries}
        self._data, self._widths = data, table[b"hmtx"]
        self.em: int = struct.unpack_from(">H", data, table[b"head"] + 18)[0]
        self._metrics: int = struct.unpack_from(">H", data, table[b"hhea"] + 34)[0]
        self._map = start = _map_of_format_4(data, table[b"cmap"])
        self._count: int = struct.unpack_from(">H", data, start + 6)[0] // 2
        self._ends: tuple[int, ...] = struct.unpack_from(f">{self._count}H", data, start + 14)
        self._known: dict[int, int] = {}

    def glyph(self, code: int) -> int:
        """Return the glyph of a code point, 0 where the font has none."""
        index = self._known.get(code)
        if index is None:
            index = self._known[code] = self._look_up(code)
        return index

    def width(self, code: int) -> int:
        """Return a code point's advance width [font units]; one that is lacking is as wide as the font's empty box."""
        last = min(self.glyph(code), self._metrics - 1)
        advance: int = struct.unpack_from(">H", self._data, self._widths + 4 * last)[0]
        return advance

    def _look_up(self, code: int) -> int:
        index = bisect_left(self._ends, code)
        if index >= self._count or code > 0xFFFE:
            return 0
        at = self._map + 16 + 2 * index
        first, delta, away = (struct.unpack_from(">H", self._data, at + 2 * self._count * part)[0] for part in (1, 2, 3))
        if code < first:
            return 0
        glyph = code
        if away:
            place = at + 6 * self._count + away + 2 * (code - first)
            glyph = struct.unpack_from(">H", self._data, place)[0]
            if not glyph:
                return 0
        return int(glyph + delta) & 0xFFFF


@cache
def face(name: str) -> Face:
    """Return the widths of the shipped font ``name``."""
    return Face(assets.font(name))


def _map_of_format_4(data: bytes, cmap: int) -> int:
    for i in range(struct.unpack_from(">H", data, cmap + 2)[0]):
        start: int = cmap + struct.unpack_from(">L", data, cmap + 8 + 8 * i)[0]
        if struct.unpack_from(">H", data, start)[0] == 4:
            return start
    raise LookupError("the font has no character map of format 4")


def missing(text: str, bold: bool = False, italic: bool = False, condensed: bool = False) -> str:
    """Return the characters of ``text`` that the font has no glyph for."""
    known = face(font_name(bold, italic, condensed))
    return "".join(c for c in text if not known.glyph(ord(c)))


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, bold: bool = False, italic: bool = False, condensed: bool = False) -> float:
    """Return how wide ``text`` is written [the unit of ``size``], without kerning.

    A character that the font lacks counts as wide as the font's empty box.
    """
    known = face(font_name(bold, italic, condensed))
    return size / known.em * sum(known.width(ord(c)) for c in text)


@lru_cache(maxsize=256)  # the same few names are written at each step of a drag
def writable(text: str) -> str:
    """Return a typed text with each character that no sheet can write (a font lacks it) as a hollow square."""
    both = face(font_name(bold=True, condensed=True)), face(font_name())
    return "".join(c if c.isprintable() and all(font.glyph(ord(c)) for font in both) else "□" for c in text)
