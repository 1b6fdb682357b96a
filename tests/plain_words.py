"""A scanner for plain English: words that the house does not use, long sentences, and two names for one thing.

It reads plain sentences and Markdown alike. Code between backticks is not English and is left out.
"""

from __future__ import annotations

import ast
import io
import re
import tokenize
from typing import NamedTuple

MOST_WORDS = 30
"""A sentence may have no more words than this; 20 is the aim. A figure with its unit counts as one word."""


class Rule(NamedTuple):
    """A pattern that no text may hold, what to say instead, and the words that excuse it in the same paragraph."""

    pattern: str
    say: str
    excuse: str = ""


_WAYS = r"(?:of|with|on|at) (?:its|their|his) own"
WORDS = (
    Rule(r"reckon\w*", "calculate"),
    Rule(r"tells?|told", "show, say"),
    Rule(r"whence", "from where"),
    Rule(r"thereby", "so"),
    Rule(r"athwart\w*", "across"),
    Rule(r"beside", "next to"),
    Rule(r"stands|stood|lies?|lying", "is"),
    Rule(r"bears?|bore (?!out|the core|a hole|is)", "support, carry"),
    Rule(r"(?:hold|holds|held|holding)(?: \w+){0,3} against", "check against"),
    Rule(r"(?:as|by|without|no|give|gives) leave", "permission"),
    Rule(r"anew", "again"),
    Rule(r"lately", "recently"),
    Rule(r"whatever", "any, all that"),
    Rule(_WAYS, "a ... for it alone, by itself"),
    Rule(r"(?:gives?|gave|giving|given) way", "yield, break, is replaced"),
    Rule(r"so much as", "even"),
    Rule(r"from memory|secondary cop(?:y|ies)|our choice", "our assumption; the standard's name"),
)
"""The words of an old dialect."""

NAMES = (
    Rule(r"saddles?", "bracket hook"),
    Rule(r"rows? \d+", "3rd hole from the top (two holes up)"),
    Rule(r"rows? left", "usable holes"),
    Rule(r"(?:top|third|second|lowest|highest|lower|upper) rows?", "1st, 2nd, 3rd hole from the top"),
    Rule(r"legs?", "shaft length"),
    Rule(r"fillets?", "corner radius, rounded corner", "corner radius"),
    Rule(r"(?:anti-ventilation|cavitation) plates?", "AV plate", "AV plate"),
    Rule(r"holes? \((?:port|starboard) motor", "port motor, lower starboard bolt"),
    Rule(
        r"(?<!\bAV )(?<!\bbacking )(?<!\bcapacity )(?<!\brelieved )(?<!-ventilation )(?<!\bcavitation )plates?",
        "AV plate, backing plate or capacity plate",
    ),
)
"""Second names of things that have a first one."""

_CODE = re.compile(r"`[^`]*`")
_PICTURE = re.compile(r"!\[([^\]]*)\]\([^)]*\)")
_LINK = re.compile(r"\[([^\]]+)\]\([^)]+\)")
_LEAD = re.compile(r"^\s*(?:#+|[-*>]|\d+\.)\s+")
_MARKS = re.compile(r"\*+|^\s*\|?[-| ]+\|?$")
_FENCE = "```"
_INDENTED = re.compile(r" {4,}\S")
_HEADING = re.compile(r"#+ ")
_NEW = re.compile(r"\s*(?:[-*>]|\d+\.)\s|\s*\||!\[")
_END = re.compile(r"(?<=[.!?])[)”\"]?\s+(?=\S)")
_FIGURE = re.compile(r"(?:\d[\d.,]*(?:[ -]\d+/\d+)?|\d+/\d+)(?: (?:in|mm|cm|lb-ft|lb|kg|hp|kW|MB|°))?")
_WHAT = re.compile(r"^What (?!.*\?)")


def paragraphs(text: str) -> list[str]:
    """Return the paragraphs, headings, list items and table cells of ``text``, without Markdown's marks."""
    blocks: list[list[str]] = [[]]
    fenced = False
    for line in text.splitlines():
        fenced ^= line.startswith(_FENCE)
        if fenced or line.startswith(_FENCE) or (_INDENTED.match(line) and not blocks[-1]):
            continue
        heading = _HEADING.match(line)
        if heading or not line.strip() or _NEW.match(line):
            blocks.append([])
        if line.strip():
            blocks[-1].append(_bare(line))
        if heading:
            blocks.append([])
    joined = (" ".join(block) for block in blocks)
    return [cell.strip() for block in joined for cell in block.split("|") if cell.strip()]


def _bare(line: str) -> str:
    """Return a line without Markdown's marks; code becomes one word."""
    words = _LINK.sub(r"\1", _PICTURE.sub(r"\1", _CODE.sub("CODE", _LEAD.sub("", line))))
    return _MARKS.sub("", words).strip()


def strings(source: str) -> list[str]:
    """Return the texts in Python's ``source`` that a person may read: no docstring, no single word.

    A value in an f-string becomes one word.
    """
    tree = ast.parse(source)
    joined = [node for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)]
    parts = {id(part) for node in joined for part in ast.walk(node) if part is not node}
    bare = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    made = [_text(node) for node in ast.walk(tree) if id(node) not in parts | bare]
    return [text for text in made if " " in text.strip()]


def documentation(source: str) -> list[str]:
    """Return the docstrings and comments of Python's ``source``, without how well a number is known: code has to say that."""
    nodes = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)]
    tokens = tokenize.generate_tokens(io.StringIO(source).readline)
    comments = [token.string.lstrip("# ") for token in tokens if token.type == tokenize.COMMENT]
    texts = [text for node in nodes if (text := ast.get_docstring(node))] + comments
    return [re.sub("from memory|secondary cop(y|ies)", "", text) for text in texts]


def _text(node: ast.AST) -> str:
    if isinstance(node, ast.JoinedStr):
        return "".join(_text(part) or "X" for part in node.values)
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def sentences(paragraph: str) -> list[str]:
    """Return the sentences of a paragraph."""
    return [part.strip() for part in _END.split(paragraph) if part.strip()]


def length(sentence: str) -> int:
    """Return the number of words; a figure with its unit is one."""
    return len(re.findall(r"\w[\w’'/-]*", _FIGURE.sub("1", sentence)))


def faults(text: str) -> list[str]:
    """Return what is wrong with ``text``, one line a fault; an empty list where it is plain."""
    return [fault for paragraph in paragraphs(text) for fault in _faults(paragraph)]


def _faults(paragraph: str) -> list[str]:
    made = []
    for rule in (*WORDS, *NAMES):
        if rule.excuse and rule.excuse.lower() in paragraph.lower():
            continue
        made += [
            f'"{hit[0]}" (say: {rule.say}): {_around(paragraph, hit)}'
            for hit in re.finditer(rf"\b(?:{rule.pattern})\b", paragraph, re.IGNORECASE)
        ]
    for sentence in sentences(paragraph):
        if length(sentence) > MOST_WORDS:
            made.append(f"{length(sentence)} words: {sentence}")
        if _WHAT.match(sentence) and sentence.endswith((".", ":")):
            made.append(f'"What ..." as a subject: {sentence}')
    return made


def _around(paragraph: str, hit: re.Match[str]) -> str:
    return paragraph[max(0, hit.start() - 40) : hit.end() + 40]


if __name__ == "__main__":  # python3 -m tests.plain_words FILE...: what is not plain in docstrings, comments and texts
    import sys
    from pathlib import Path

    for name in sys.argv[1:]:
        source = Path(name).read_text(encoding="utf-8")
        for text in [*documentation(source), *strings(source)] if name.endswith(".py") else [source]:
            for fault in faults(text):
                print(f"{name}: {fault}")
