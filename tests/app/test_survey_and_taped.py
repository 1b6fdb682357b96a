"""The commands `survey` and `taped`: their answers, exit codes, refusals, and what they save."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest
from msgspec.structs import replace

from app.commands.command_line import main
from geometry.design.boat import OldHole
from geometry.design_text import fingerprint, from_text, to_text
from geometry.readings.measures import measure
from geometry.survey.taped_paper import Causes, readings_of
from tests.designs import roomy

DOWN, ACROSS = "old lower port; top edge; {}", "old lower port; centreline; {}"
HOLE = (-120.0, -260.0)


@pytest.fixture
def boat(tmp_path):
    old = OldHole(name="old lower port", at=(-118.0, -255.0), diameter=12.7,
                  state="open", plug_diameter=None, reuse=False, drill=None)  # fmt: skip
    other = replace(old, name="old lower starboard", at=(126.0, -252.0))
    path = tmp_path / "boat.boltwell"
    path.write_text(to_text(replace(roomy(), units="mm", old_holes=(old, other))), encoding="utf-8")
    return path


def listed(tmp_path: Path, *lines: str) -> str:
    path = tmp_path / "distances.txt"
    path.write_text("# read by tape\n\n" + "\n".join(lines), encoding="utf-8")
    return str(path)


def braced(off: float = 0.0) -> tuple[str, ...]:
    """Eight distances between the two old holes, the top edge and the centreline; the fourth is ``off`` too long."""
    port, starboard = HOLE, (125.0, -250.0)
    return (
        ACROSS.format("120"), DOWN.format("260"), f"old lower port; middle of the top edge; {math.hypot(*port):.2f}",
        f"old lower port; old lower starboard; {math.dist(port, starboard) + off:.2f}",
        "old lower starboard; centerline; 125", "old lower starboard; top edge; 250",
        f"middle of the top edge; old lower starboard; {math.hypot(*starboard):.2f}",
        f"old lower starboard; port end of the top edge; {math.dist(starboard, (-330.0, 0.0)):.2f}",
        "port end of the top edge; centreline; 330", "port end of the top edge; top edge; 0",
    )  # fmt: skip


def test_a_survey_that_agrees_says_so_and_its_places_become_readings_with_their_spreads(boat, tmp_path, capsys):
    out = tmp_path / "measured.boltwell"
    assert main(["survey", str(boat), "--distances", listed(tmp_path, *braced()), "--take", "--save", str(out)]) == 0
    said = capsys.readouterr().out
    assert "All 10 readings agree within 1 mm." in said
    assert "old lower port: 120.0 mm to port, 260.0 mm down, within 2 mm" in said
    assert "port end of the top edge: 330.0 mm to port, level with the top edge" in said
    design = from_text(out.read_bytes())
    assert design.old_holes[0].at == pytest.approx(HOLE, abs=0.02)
    assert len(design.survey.distances) == 10
    reading = design.readings["old_holes.0.down"]
    assert (reading.state, reading.how) == ("measured", "tape")
    assert reading.value == pytest.approx(260.0, abs=0.02)
    assert 0.2 < reading.spread < 0.8  # less than one tape reading's, as several say the same
    assert measure(design, "old_holes.0.down").get(design) == pytest.approx(260.0, abs=0.02)
    assert fingerprint(replace(design, survey=None)) == fingerprint(design)


def test_a_distance_that_does_not_agree_is_named_and_nothing_is_taken_over(boat, tmp_path, capsys):
    out = tmp_path / "measured.boltwell"
    words = ["survey", str(boat), "--distances", listed(tmp_path, *braced(off=25.4)), "--save", str(out)]
    assert main([*words, "--take"]) == 2
    said = capsys.readouterr()
    assert "Distance 4, old lower port to old lower starboard" in said.out
    assert "too long. Read it again." in said.out
    assert "does not agree yet" in said.err
    assert not out.exists()
    assert main(words) == 1  # it is kept with the boat all the same
    assert from_text(out.read_bytes()).old_holes == from_text(boat.read_bytes()).old_holes


def test_a_point_with_one_distance_is_named(boat, tmp_path, capsys):
    assert main(["survey", str(boat), "--distances", listed(tmp_path, *braced()[3:4], *braced()[4:7])]) == 1
    assert "Old lower port is not fixed: it has one distance. Measure it to one more place." in " ".join(
        capsys.readouterr().out.split()
    )


def test_a_mirror_image_is_named_for_an_own_mark(boat, tmp_path, capsys):
    lines = ("keel mark; centreline; 0", "keel mark; top edge; 400", "my mark; keel mark; 250", "my mark; middle; 250")
    assert main(["survey", str(boat), "--distances", listed(tmp_path, *lines)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "as in a mirror: the distances allow both." in said
    assert "keel mark, my mark." in said


@pytest.mark.parametrize(("line", "said"), [
    ("old lower port; centreline", "Line 3 is not a distance."),
    ("old lower port; centreline; about a foot", "Line 3: "),
    ("old lower port; old lower port; 120", "goes from old lower port to itself"),
    ("old lower port; centreline; -120", "it can't be below 0"),
    ("old lower port; centreline; 120; upstairs", "Line 3 is not a distance."),
])  # fmt: skip
def test_a_line_that_is_no_distance_is_refused_by_its_number(line, said, boat, tmp_path, capsys):
    assert main(["survey", str(boat), "--distances", listed(tmp_path, line)]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1


def test_a_survey_needs_distances_and_take_needs_a_file_to_save(boat, tmp_path, capsys):
    assert main(["survey", str(boat)]) == 2
    assert "has no survey yet" in capsys.readouterr().err
    assert main(["survey", str(boat), "--distances", listed(tmp_path, *braced()), "--take"]) == 2
    assert "--take needs --save" in capsys.readouterr().err
    assert main(["survey", str(boat), "--distances", str(tmp_path / "none.txt")]) == 2
    assert "can't be read as text" in capsys.readouterr().err


def test_the_survey_as_json_has_redundancies_and_ellipses(boat, tmp_path, capsys):
    assert main(["survey", str(boat), "--distances", listed(tmp_path, *braced()), "--json"]) == 0
    face = json.loads(capsys.readouterr().out)["faces"][0]
    assert face["agrees"]
    assert sum(reading["redundancy"] for reading in face["readings"]) == pytest.approx(10 - 6, abs=1e-4)
    assert all(place["ellipse"][0] >= place["ellipse"][1] > 0 for place in face["places"])


@pytest.fixture
def drillable(tmp_path):
    path = tmp_path / "roomy.boltwell"
    path.write_text(to_text(roomy()), encoding="utf-8")
    return path


@pytest.fixture
def table(drillable, capsys):
    assert main(["taped", str(drillable), "--json"]) == 1
    return json.loads(capsys.readouterr().out)


def typed(table) -> str:
    """Return all readings of a table as they should be, as typed."""
    return ",".join(f"{row['number']}={row['expected']:.3f} mm" for row in table["rows"])


def test_a_paper_that_is_true_may_be_punched(drillable, table, capsys):
    assert table["answer"] == "measure the rest"
    assert main(["taped", str(drillable), "--read", typed(table)]) == 0
    assert capsys.readouterr().out.startswith("Go on: every figure is within its tolerance. Punch the dots.")


def test_what_was_read_is_saved_and_counts_until_the_design_changes(drillable, table, tmp_path, capsys):
    out = tmp_path / "read.boltwell"
    assert main(["taped", str(drillable), "--read", typed(table), "--save", str(out)]) == 0
    assert main(["taped", str(out)]) == 0
    design = from_text(out.read_bytes())
    assert fingerprint(design) == fingerprint(roomy())
    moved = replace(design, mounts=(replace(design.mounts[0], upper_at=design.mounts[0].upper_at - 3.0),))
    out.write_text(to_text(moved), encoding="utf-8")
    capsys.readouterr()
    assert main(["taped", str(out)]) == 1
    assert capsys.readouterr().out.startswith("Measure the rest")


def test_a_paper_one_percent_too_small_names_the_bars_to_type(drillable, table, capsys):
    read = ",".join(f"{row['number']}={0.99 * row['expected']:.3f} mm" for row in table["rows"])
    assert main(["taped", str(drillable), "--read", read]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert said.startswith("Print again: the paper is not at its size. It is 1.0 % too short across.")
    assert "Type in the bars of sheet A: across" in said


def test_a_paper_taped_askew_is_taped_again(drillable, table, capsys):
    from app.commands.command import checked_of
    from app.printing.taped_check import table_of
    from app.ui.dates import today
    from templates_out.drawing.printer import Printing

    paper = table_of(checked_of(roomy()), Printing(today(), "letter")).paper
    faults = Causes((0.0, 0.0), (0.0, 0.0), -0.8, 0.0, (0.0, 0.0), (0.0,) * len(paper.seams))
    askew = readings_of(paper, faults)
    read = ",".join(f"{number}={askew[row['name']]:.3f} mm" for number, row in enumerate(table["rows"], start=1))
    assert main(["taped", str(drillable), "--read", read]) == 1
    assert capsys.readouterr().out.startswith("Tape it again. It is turned 0.8° clockwise.")


def test_nobody_goes_on_by_a_template_that_may_not_be_drilled(tmp_path, capsys):
    path = tmp_path / "demonstration.boltwell"
    path.write_text(to_text(replace(roomy(), demonstration=True)), encoding="utf-8")
    main(["taped", str(path), "--json"])
    table = json.loads(capsys.readouterr().out)
    assert table["answer"] == "not to be drilled"
    assert main(["taped", str(path), "--read", typed(table)]) == 1
    assert capsys.readouterr().out.startswith("NOT TO BE DRILLED.")


@pytest.mark.parametrize(("read", "said"), [
    ("12 7/8", "is no reading"), ("99=12 in", "is no reading"), ("1=twelve", "twelve"), ("1=-5", "below 0"),
])  # fmt: skip
def test_a_reading_that_is_none_is_refused(read, said, drillable, capsys):
    assert main(["taped", str(drillable), "--read", read]) == 2
    error = capsys.readouterr().err
    assert said in error


def test_the_name_of_an_own_mark_says_its_side_and_a_mark_is_below_the_edge(boat, tmp_path, capsys):
    far = math.hypot(200.0, 300.0)
    lines = ("mark at port; centreline; 200", "mark at port; top edge; 300", f"mark at port; middle; {far:.1f}")
    assert main(["survey", str(boat), "--distances", listed(tmp_path, *lines)]) == 0
    assert "mark at port: 200.0 mm to port, 300.0 mm down" in capsys.readouterr().out


def test_a_template_for_one_pilot_lets_only_its_dot_be_punched() -> None:
    from app.printing.taped_check import TapedTable, with_readings
    from templates_out.layout.taped_table import paper_without_joins

    paper = paper_without_joins(roomy())
    read = with_readings(roomy(), paper, {row.name: row.expected for row in paper.rows})
    table = TapedTable(paper, (200.0, 150.0), pilot="lower port")
    assert table.may_go_on(read)
    assert table.answer(read) == "Go on: every figure is within its tolerance. Punch only the dot of the lower port hole."
