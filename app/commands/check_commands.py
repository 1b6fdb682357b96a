"""The commands `survey` and `taped`: distances between points, and what was read on the taped-up paper."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path
from typing import TYPE_CHECKING

from app.commands.command import UsageError, Words, checked_of
from app.ui.terminal import print_text, waiting, warn, wrapped
from geometry.errors import OwnerError

if TYPE_CHECKING:
    from app.printing.taped_check import TapedTable
    from geometry.design.design import Design
    from geometry.survey.of_design import Surveyed
    from geometry.survey.taped_paper import Paper


def survey(words: Words) -> int:
    """Print what a survey says, and save the boat where asked; 0 where every distance agrees, else 1.

    Raises:
        OwnerError: a file or a distance can't be read, or the survey does not agree and is to be taken over.
    """
    from app.document.files import read_design, write_design
    from geometry.survey.of_design import surveyed, taken_over, with_distances
    from geometry.survey.survey_text import distances_in

    save = _free(words)
    design, seen = read_design(Path(words.FILE))
    if words.distances:
        design = with_distances(design, distances_in(_text_of(Path(words.distances)), design))
    if design.survey is None:
        raise OwnerError(f"{Path(words.FILE).name} has no survey yet. Give a list of distances: --distances LIST.txt")
    done = surveyed(design)
    print_text(_survey_json(done) if words.json else _survey_text(design, done))
    if words.take:
        if save is None:
            raise UsageError("--take needs --save OUT, the boat with the new readings.")
        design = taken_over(design)
    if save is not None:
        write_design(save, design, seen, over=words.force)
        warn(f"The boat is saved as {save}.")
    return 0 if all(each.survey.agrees for each in done) else 1


def taped(words: Words) -> int:
    """Print the table of the taped-up check and its answer, and save the boat where asked; 0 where the answer is go on.

    Raises:
        OwnerError: a file or a reading can't be read, or there is no template.
    """
    from app.document.files import read_design, write_design
    from app.printing.sheet_kinds import usual_paper
    from app.printing.taped_check import table_of, with_readings
    from app.ui.dates import today
    from templates_out.drawing.printer import Printing

    save = _free(words)
    design, seen = read_design(Path(words.FILE))
    with waiting("taped-up check: planning the sheets"):
        table = table_of(checked_of(design), Printing(today(), (words.paper or usual_paper(design)).lower()))
    if words.read:
        design = with_readings(design, table.paper, _readings_in(words.read, table.paper, design))
    print_text(_taped_json(table, design) if words.json else table.text(design))
    if save is not None:
        write_design(save, design, seen, over=words.force)
        warn(f"The boat is saved as {save}.")
    return 0 if table.may_go_on(design) else 1


def _readings_in(text: str, paper: Paper, design: Design) -> dict[str, float]:
    """Return readings typed as "1=12 7/8, 2=9 7/8", the numbers those of the table's lines.

    Raises:
        OwnerError: says which can't be read.
    """
    from geometry.units.units import parse_length

    made = {}
    for part in filter(None, (part.strip() for part in re.split(r"[;,]", text))):
        number, sign, length = part.partition("=")
        if not sign or not number.strip().isdigit() or not 1 <= int(number) <= len(paper.rows):
            raise UsageError(f'"{part}" is no reading. Write the number of a line, = and its length: 1=12 7/8. '
                             f"The lines go from 1 to {len(paper.rows)}.")  # fmt: skip
        made[paper.rows[int(number) - 1].name] = parse_length(length, design.units)
    return made


def _free(words: Words) -> Path | None:
    """Return the file to save to; None where nothing is saved.

    Raises:
        OwnerError: it is there already.
    """
    if not words.save:
        return None
    save = Path(words.save)
    if not words.force and os.path.lexists(save):
        raise OwnerError(f"{save.name} exists already, and a boat in it would be lost. "
                         "Give --save a new name, or replace it with --force.")  # fmt: skip
    return save


def _text_of(path: Path) -> str:
    """Return the text of a list of distances.

    Raises:
        OwnerError: it is not there, or no text.
    """
    try:
        return path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise OwnerError(f"{path.name} can't be read as text. Give --distances a list, one distance a line.") from error


def _survey_text(design: Design, done: tuple[Surveyed, ...]) -> str:
    from geometry.survey.survey_text import own_marks
    from geometry.survey.survey_words import agreement_word, place_words, survey_sentences
    from geometry.units.units import format_length

    unit, lines = design.units, []
    for each in done:
        lines += [f"Survey of the {each.face}", ""]
        lines += [wrapped(sentence) for sentence in survey_sentences(each, unit)]
        lines.append("")
        for number, agreement in zip(each.numbers, each.survey.agreements, strict=True):
            reading = agreement.reading
            said = f"{_name(reading.first)} to {_name(reading.second)}, {format_length(reading.length, unit)}"
            lines.append(wrapped(f"{said}: {agreement_word(agreement, unit)}", f"{number + 1:>3}  "))
        lines.append("")
        lines += [
            wrapped(f"{placed.name}: {place_words(placed, unit, each.face == 'inside')}", "     ")
            for placed in each.survey.placed
        ]
        lines.append("")
    marks = own_marks(design)
    if marks:
        lines.append(wrapped(f"Your own marks, as no hole or corner has these names: {', '.join(marks)}."))
    return "\n".join(lines).rstrip()


def _name(name: str) -> str:
    from geometry.survey.network import DATUM
    from geometry.survey.of_design import DATUM_WORDS

    return DATUM_WORDS if name == DATUM else name


def _survey_json(done: tuple[Surveyed, ...]) -> str:
    faces = [
        {
            "face": each.face,
            "agrees": each.survey.agrees,
            "not_fixed": each.survey.loose,
            "does_not_agree": [each.numbers[index] + 1 for index in each.survey.suspects],
            "mirrored": [list(twin.names) for twin in each.survey.twins],
            "readings": [
                {"number": number + 1, "off": _rounded(agreement.off), "redundancy": _rounded(agreement.share),
                 "normalised": _rounded(agreement.normalised)}
                for number, agreement in zip(each.numbers, each.survey.agreements, strict=True)
            ],
            "places": [
                {"name": placed.name, "at": [_rounded(c) for c in placed.at], "across": _rounded(placed.across),
                 "up": _rounded(placed.up), "ellipse": [_rounded(placed.ellipse.long), _rounded(placed.ellipse.short),
                                                        _rounded(placed.ellipse.turned)]}
                for placed in each.survey.placed
            ],
        }
        for each in done
    ]  # fmt: skip
    return json.dumps({"faces": faces}, indent=2)


def _taped_json(table: TapedTable, design: Design) -> str:
    from geometry.survey.taped_paper import is_out, judged

    paper, read = table.paper, table.readings(design)
    rows = [
        {"number": number, "name": row.name, "expected": _rounded(row.expected), "within": _rounded(row.within),
         "read": read.get(row.name), "out": row.name in read and is_out(row, read[row.name])}
        for number, row in enumerate(paper.rows, start=1)
    ]  # fmt: skip
    answer = "not to be drilled" if table.refused else judged(paper, read).answer
    return json.dumps({"answer": answer, "rows": rows}, indent=2)


def _rounded(value: float) -> float:
    return round(value, 6) + 0.0
