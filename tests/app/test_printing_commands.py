"""`template`, `sheet` and `demo`: whole files, read back by another reader, or none at all."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest

from app.commands import main
from geometry.design.design_text import from_text, to_text

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = Path(__file__).with_name("example.boltwell")
POINTS = 72 / 25.4  # ISO 32000-1, 8.3.2.3: a unit is 1/72 in
PNG = b"\x89PNG\r\n\x1a\n"  # PNG specification, 5.2


def sizes(path):
    """Return the pages' sizes [mm], as pikepdf reads them."""
    with pikepdf.open(path) as pdf:
        boxes = [[float(number) for number in page.mediabox] for page in pdf.pages]
    return [((box[2] - box[0]) / POINTS, (box[3] - box[1]) / POINTS) for box in boxes]


def test_template_is_a_pdf_on_the_paper_of_the_persons_unit(tmp_path, capsys):
    out = tmp_path / "template.pdf"
    assert main(["template", str(EXAMPLE), "--to", str(out)]) == 0
    captured = capsys.readouterr()
    assert captured.out == ""
    count = len(sizes(out))
    assert f"template: {count} sheets in {out}" in captured.err
    for size in sizes(out):
        assert sorted(size) == pytest.approx([215.9, 279.4], abs=0.01)  # ASME Y14.1 size A: 8.5 x 11 in
    assert list(tmp_path.iterdir()) == [out]
    first = out.read_bytes()
    assert main(["template", str(EXAMPLE), "--to", str(out)]) == 0
    assert out.read_bytes() == first  # the same design and day give the same bytes


def test_template_on_a_paper_that_was_asked_for(tmp_path):
    out = tmp_path / "template.pdf"
    assert main(["template", str(EXAMPLE), "--to", str(out), "--paper", "A3"]) == 0
    for size in sizes(out):
        assert sorted(size) == pytest.approx([297, 420], abs=0.01)  # ISO 216


def test_a_paper_that_there_is_not(tmp_path, capsys):
    out = tmp_path / "template.pdf"
    assert main(["template", str(EXAMPLE), "--to", str(out), "--paper", "a9"]) == 2
    assert "a4" in capsys.readouterr().err
    assert not out.exists()


def test_nothing_to_drill_is_one_sentence_and_no_file(tmp_path, capsys):
    raw = json.loads(EXAMPLE.read_text(encoding="utf-8"))
    mount = raw["mounts"][0]
    mount |= dict.fromkeys(("row", "upper_at", "drop", "upper_hardware", "lower_hardware"))
    mount["bracket"] |= {"kind": "clamp-on", "rows": None, "lower": None, "jaw": [30.0, 60.0],
                         "clamp_screws": {"half_spacing": 120.0, "depth": 90.0, "pads": [0.0, 6.0]}}  # fmt: skip
    path, out = tmp_path / "clamped.boltwell", tmp_path / "template.pdf"
    path.write_text(to_text(from_text(json.dumps(raw))), encoding="utf-8")
    assert main(["template", str(path), "--to", str(out)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("boltwell: ")
    assert not out.exists()


def test_sheet_is_a_pdf(tmp_path, capsys):
    out = tmp_path / "sheet.pdf"
    assert main(["sheet", str(EXAMPLE), "--to", str(out)]) == 0
    assert capsys.readouterr().out == ""
    assert sizes(out)


def test_measuring_sheet_is_a_pdf(tmp_path, capsys):
    out = tmp_path / "measure.pdf"
    assert main(["measure", str(EXAMPLE), "--to", str(out)]) == 0
    assert capsys.readouterr().out == ""
    assert 1 <= len(sizes(out)) <= 2


def test_the_inside_sheets_follow_the_template(tmp_path):
    outside, both = tmp_path / "outside.pdf", tmp_path / "both.pdf"
    words = ["template", str(EXAMPLE), "--paper", "letter", "--to"]
    assert main([*words, str(outside)]) == main([*words, str(both), "--inside"]) == 0
    assert len(sizes(both)) > len(sizes(outside))


def test_bars_of_the_last_print_correct_the_next(tmp_path, capsys):
    out = tmp_path / "template.pdf"
    assert main(["template", str(EXAMPLE), "--to", str(out), "--paper", "letter", "--bars", "238.4mm"]) == 2
    assert "two lengths" in capsys.readouterr().err
    assert not out.exists()
    assert main(["template", str(EXAMPLE), "--to", str(out), "--paper", "letter", "--bars", "238.4 mm, 149 mm"]) == 0
    assert out.exists()


def test_where_it_cannot_be_written_it_is_said(tmp_path, capsys):
    out = tmp_path / "missing" / "sheet.pdf"
    assert main(["sheet", str(EXAMPLE), "--to", str(out)]) == 2
    assert "there is no folder" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_demo_does_the_whole_job_without_a_screen(tmp_path):
    bare = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    bare.pop("QT_QPA_PLATFORM", None)
    bare["PYTHONPATH"] = str(ROOT)
    command = [sys.executable, "-c", "import sys; from app.commands import main; sys.exit(main())", "demo"]
    ran = subprocess.run(
        command, cwd=tmp_path, env=bare, capture_output=True, text=True, encoding="utf-8", timeout=300, check=False
    )
    assert ran.returncode == 0, ran.stderr
    folder = tmp_path / "boltwell-demo"
    assert ran.stdout.startswith("Don't drill here")
    assert re.search(rf"^In the folder {re.escape(str(folder))}: ", ran.stdout, re.MULTILINE)
    assert sorted(file.name for file in folder.iterdir()) == ["cut.png", "face.png", "shop-sheet.pdf", "template.pdf"]
    assert list(tmp_path.iterdir()) == [folder]
    assert sizes(folder / "template.pdf")
    assert sizes(folder / "shop-sheet.pdf")
    for name in ("face.png", "cut.png"):
        raw = (folder / name).read_bytes()
        width, height = int.from_bytes(raw[16:20], "big"), int.from_bytes(raw[20:24], "big")  # PNG, 11.2.1
        assert raw.startswith(PNG)
        assert width > height > 800


def test_demo_into_a_folder_of_ones_choice_that_is_a_file(tmp_path, capsys):
    (tmp_path / "here").write_text("a file")
    assert main(["demo", "--to", str(tmp_path / "here"), "--no-window"]) == 2
    assert "can't be made" in capsys.readouterr().err
    assert (tmp_path / "here").read_text() == "a file"
