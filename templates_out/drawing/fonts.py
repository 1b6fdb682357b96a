"""How wide a text is, and whether the font can write it: read from the shipped fonts themselves.

Source of the tables: OpenType specification, chapters head, hhea, hmtx and cmap (format 4).
"""

from __future__ import annotations

import struct
from functools import cache, lru_cache

import msgspec

import assets


def font_name(bold: bool = False, italic: bool = False, condensed: bool = False) -> str:
    """Return the shipped font's file name, without its ending."""
    style = ("Bold" if bold else "") + ("Oblique" if italic else "")
    return "DejaVuSans" + ("Condensed" if condensed else "") + (f"-{style}" if style else "")


class Face(msgspec.Struct, frozen=True):
    """A font's widths.

    Attributes:
        em: font units in the font's size.
        glyphs: glyph for each character (code point).
        widths: advance width for each glyph [font units].
    """

    em: int
    glyphs: dict[int, int]
    widths: tuple[int, ...]


@cache
def face(name: str) -> Face:
    """Return the widths of the shipped font ``name``."""
    data = assets.font(name)
    count = struct.unpack_from(">H", data, 4)[0]
    entries = (struct.unpack_from(">4s3L", data, 12 + 16 * i) for i in range(count))
    table = {tag: offset for tag, _sum, offset, _length in entries}
    em = struct.unpack_from(">H", data, table[b"head"] + 18)[0]
    metrics = struct.unpack_from(">H", data, table[b"hhea"] + 34)[0]
    widths = struct.unpack_from(">" + "Hh" * metrics, data, table[b"hmtx"])[::2]
    return Face(em, _glyphs(data, table[b"cmap"]), widths)


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    for i in range(struct.unpack_from(">H", data, cmap + 2)[0]):
        start = cmap + struct.unpack_from(">L", data, cmap + 8 + 8 * i)[0]
        if struct.unpack_from(">H", data, start)[0] == 4:
            break
    else:
        raise LookupError("the font has no character map of format 4")
    n = struct.unpack_from(">H", data, start + 6)[0] // 2
    ends = struct.unpack_from(f">{n}H", data, start + 14)
    starts = struct.unpack_from(f">{n}H", data, start + 16 + 2 * n)
    deltas = struct.unpack_from(f">{n}H", data, start + 16 + 4 * n)
    places = start + 16 + 6 * n
    found: dict[int, int] = {}
    for i, (first, last) in enumerate(zip(starts, ends, strict=True)):
        away = struct.unpack_from(">H", data, places + 2 * i)[0]
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code
            if away:
                glyph = struct.unpack_from(">H", data, places + 2 * i + away + 2 * (code - first))[0]
            if glyph or not away:
                glyph = (glyph + deltas[i]) & 0xFFFF
            if glyph:
                found[code] = glyph
    return found


def missing(text: str, bold: bool = False, italic: bool = False, condensed: bool = False) -> str:
    """Return the characters of ``text`` that the font has no glyph for."""
    glyphs = face(font_name(bold, italic, condensed)).glyphs
    return "".join(c for c in text if ord(c) not in glyphs)


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, bold: bool = False, italic: bool = False, condensed: bool = False) -> float:
    """Return how wide ``text`` is written [the unit of ``size``], without kerning.

    A character that the font lacks counts as wide as the font's empty box.
    """
    known = face(font_name(bold, italic, condensed))
    last = len(known.widths) - 1
    return size / known.em * sum(known.widths[min(known.glyphs.get(ord(c), 0), last)] for c in text)


def writable(text: str) -> str:
    """Return a typed text with each character that no sheet can write (a font lacks it) as a hollow square."""
    known = face(font_name(bold=True, condensed=True)).glyphs.keys() & face(font_name()).glyphs.keys()
    return "".join(c if c.isprintable() and ord(c) in known else "□" for c in text)
