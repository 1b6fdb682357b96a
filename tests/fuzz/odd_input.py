"""Odd input from a seed: designs with a broken structure, broken bytes, odd texts for entries, and command words."""

from __future__ import annotations

import copy
import json
import random
from typing import Any

from assets import design_names, design_text

ODD_VALUES: tuple[Any, ...] = (
    None, True, False, 0, -0.0, 1, -1, 1e-320, 1e-9, 0.5, 12.7, 90.0, 180.0, 1e5, 1e9, 1e308, -1e308,
    10**400, "", " ", "12", "level", "NaN", "Infinity", "\x00", "𝟙½″", "a" * 5000, [], {}, [None], [[]],
    [[0, 0]], [[1, 1], [1, 1], [1, 1]], {"text": "1"},
)  # fmt: skip
PIECES = (
    "1", "7", "12", "0", "-", "+", "−", " ", "\t", "/", "1/2", "3/16", "½", "⅜", "⅞", '"', "″", "'", "′",
    "in", "inch", "mm", "cm", "m", "ft", "°", "deg", "kg", "lb", "hp", "kW", "x", "×", ".", ",", "1e9",
    "1e999", "nan", "inf", "third", "2nd", "hole", "two holes up", "level", "square", "none", "not known", "١٢",
    "①", "\x00", "\u200b", "\u202e", "\ud800", "e", "%", "(", ")", "*", "=", "0x10", "1_000", "1'000",
)  # fmt: skip
WORDS = (
    "demo", "check", "rows", "fit", "template", "inside", "bars", "coupons", "gauge", "plate", "measure",
    "sheet", "--json", "--to", "--paper", "--bars", "--margin", "--printer", "--save", "--boat", "--no-window",
    "--help", "-h", "--version", "--inside", "FILE", "OUT", "letter", "A4", "a0", "", "-", "--", "--to=",
    "--bars=1,2", "238.5mm,149mm", "9in,", ",", "1,2,3", "nan,inf", "6 in", "-3", "🛶", "\x00", "\udcff",
    "/dev/null", "/", "..",
)  # fmt: skip

ODD_BYTES = (b"[" * 3000, b'{"a":' * 2000, b"\xef\xbb\xbf", b"\x00", b'"' * 3, b"1e99999", b"-", b"\\u")


def design(draw: random.Random) -> bytes:
    """Return a demonstration boat's file with one to eight places of its structure changed, as JSON."""
    content = json.loads(design_text(draw.choice(design_names())))
    for _ in range(draw.randint(1, 8)):
        _change(draw, content)
    raw = json.dumps(content, ensure_ascii=draw.random() < 0.5, indent=draw.choice((None, 2)))
    return raw.encode("utf-8", "surrogatepass")


def _change(draw: random.Random, content: Any) -> None:
    """Change one place of a group or list, at any depth."""
    holder = content
    while True:
        values = holder.values() if isinstance(holder, dict) else holder
        inner = [value for value in values if isinstance(value, dict | list) and value]
        if not inner or draw.random() < 0.3:
            break
        holder = draw.choice(inner)
    key = draw.choice(list(holder)) if isinstance(holder, dict) else draw.randrange(len(holder))
    now = holder[key]
    match draw.randrange(8):
        case 0:
            del holder[key]
        case 1 if isinstance(holder, dict):
            holder[draw.choice(("more", "", "rake", key + "_"))] = copy.deepcopy(draw.choice(ODD_VALUES))
        case 2 if isinstance(now, float):
            holder[key] = now * draw.choice((-1, 0.0, 0.5, 1.001, 25.4, 1 / 25.4, 1e6)) + draw.choice((0, 1e-7, 1.0))
        case 3 if isinstance(now, list) and now:
            holder[key] = [copy.deepcopy(each) for each in now * draw.choice((2, 3, 40))]
        case 4 if isinstance(now, list):
            draw.shuffle(now)
        case 5 if isinstance(holder, list):
            holder.insert(key, copy.deepcopy(draw.choice(holder)))
        case _:
            holder[key] = copy.deepcopy(draw.choice(ODD_VALUES))


def damaged(draw: random.Random, raw: bytes) -> bytes:
    """Return bytes with a few of them changed, put in or left out, or with a part twice."""
    content = bytearray(raw)
    for _ in range(draw.randint(1, 6)):
        at = draw.randrange(len(content) + 1)
        far = min(len(content), at + draw.choice((1, 1, 2, 8, 400)))
        match draw.randrange(6):
            case 0:
                del content[at:far]
            case 1:
                content[at:at] = bytes(draw.randrange(256) for _ in range(draw.randint(1, 4)))
            case 2:
                content[at:far] = bytes(draw.randrange(256) for _ in range(far - at))
            case 3:
                content[at:at] = content[at:far]
            case 4:
                content[at:at] = draw.choice(ODD_BYTES)
            case _:
                content = content[:at]
    return bytes(content)


def text(draw: random.Random) -> str:
    """Return what a person might type, and what nobody would."""
    return "".join(draw.choice(PIECES) for _ in range(draw.choice((1, 2, 3, 3, 4, 6, 40))))


def command(draw: random.Random, file: str, out: str) -> list[str]:
    """Return the words after the program's name."""
    words = [draw.choice(WORDS) for _ in range(draw.randint(1, 6))]
    if draw.random() < 0.7:
        words[:2] = [draw.choice(WORDS[1:12]), file]
    return [{"FILE": file, "OUT": out}.get(word, word) for word in words]
