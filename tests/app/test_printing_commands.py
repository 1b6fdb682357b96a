"""`template`, `sheet` and `demo`: whole files, read back by another reader, or none at all."""

import builtins
import errno
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree as Tree

import pikepdf
import pypdfium2
import pytest

from app.commands.command_line import main
from app.document.settings import Printer, remember_printer, settings_file
from assets import design_text
from geometry.design_text import from_text, to_text
from tests.designs import roomy
from tests.readers import read_with_pikepdf

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = Path(__file__).with_name("example.boltwell")
POINTS = 72 / 25.4  # ISO 32000-1, 8.3.2.3: a unit is 1/72 in
PNG = b"\x89PNG\r\n\x1a\n"  # PNG specification, 5.2


def sizes(path):
    """Return the pages' sizes [mm], as pikepdf reads them."""
    with pikepdf.open(path) as pdf:
        boxes = [[float(number) for number in page.mediabox] for page in pdf.pages]
    return [((box[2] - box[0]) / POINTS, (box[3] - box[1]) / POINTS) for box in boxes]


def words_of(path):
    """Return all words of a file, as PDFium reads them."""
    document = pypdfium2.PdfDocument(path)
    texts = [page.get_textpage().get_text_bounded() for page in document]
    document.close()
    return " ".join(" ".join(texts).split())


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


def test_the_printers_bare_edge_is_given_as_a_length(tmp_path, capsys):
    """A margin of 10 mm: no mark nearer to the edge, as the other reader sees it (texts may lean out by half a line)."""
    out = tmp_path / "template.pdf"
    assert main(["template", str(EXAMPLE), "--to", str(out), "--margin", "10 mm", "--paper", "a4"]) == 0
    for page in read_with_pikepdf(out.read_bytes()):
        points = [point for path in page.paths for point in path.points]
        assert min(min(x, y, page.width - x, page.height - y) for x, y in points) >= 10.0 - 1e-3
    out.unlink()
    assert main(["template", str(EXAMPLE), "--to", str(out), "--margin", "3 in"]) == 2
    assert "An unprintable margin is 0 to 1 1/2 in." in capsys.readouterr().err
    assert not out.exists()


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
    assert 2 <= len(sizes(out)) <= 3


def test_the_inside_sheets_follow_the_template(tmp_path):
    outside, both = tmp_path / "outside.pdf", tmp_path / "both.pdf"
    words = ["template", str(EXAMPLE), "--paper", "letter", "--to"]
    assert main([*words, str(outside)]) == main([*words, str(both), "--inside"]) == 0
    assert len(sizes(both)) > len(sizes(outside))


def test_bars_of_the_last_print_correct_the_next(tmp_path, capsys):
    out = tmp_path / "template.pdf"
    assert main(["template", str(EXAMPLE), "--to", str(out), "--paper", "letter", "--bars", "227.1mm"]) == 2
    assert "two lengths" in capsys.readouterr().err
    assert not out.exists()
    assert main(["template", str(EXAMPLE), "--to", str(out), "--paper", "letter", "--bars", "227.1 mm, 151.4 mm"]) == 0
    assert out.exists()


# What a printer is off is kept under its name


@pytest.fixture
def own_settings(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "data"))


@pytest.mark.usefixtures("own_settings")
def test_a_printer_s_correction_is_kept_and_used_again(tmp_path, capsys):
    once, again, other = tmp_path / "once.pdf", tmp_path / "again.pdf", tmp_path / "other.pdf"
    words = ["template", str(EXAMPLE), "--printer", "Office", "--paper", "letter", "--to"]
    assert main([*words, str(once)]) == 2
    message = capsys.readouterr().err
    assert 'No correction is kept for "Office" on letter' in message
    assert "boltwell template FILE --to OUT.pdf --bars ACROSS,UP --printer Office" in message
    assert main([*words, str(once), "--bars", "227.1 mm, 151.4 mm"]) == 0
    assert main([*words, str(again)]) == 0
    assert main(["template", str(EXAMPLE), "--printer", "OFFICE", "--paper", "a4", "--to", str(other)]) == 2
    assert "Known printers: Office." in capsys.readouterr().err  # the paper is another, and so may be the way it is fed
    assert once.read_bytes() == again.read_bytes()
    assert not other.exists()
    coupons = tmp_path / "coupons.pdf"
    assert main(["coupons", str(EXAMPLE), "--printer", "office", "--paper", "letter", "--to", str(coupons)]) == 0
    assert "Corrected for your printer" in words_of(coupons)


IMPOSSIBLE: dict[str, list[object]] = {
    "short": [0, -1, 1e300, 0.5, 1.2, 5e-324, 1.0315, 0.9705], "long": [0, 0.5, 1.2], "unsure": [[-0.1, 0], [0, 9]],
}  # fmt: skip


@pytest.mark.usefixtures("own_settings")
@pytest.mark.parametrize(("field", "value"), [(field, value) for field, values in IMPOSSIBLE.items() for value in values])
def test_a_factor_that_no_printer_has_is_not_printed_by(tmp_path, capsys, field, value):
    """More than 3 % off, in the settings: it is refused as at the measuring, and a new measuring replaces it."""
    out = tmp_path / "out.pdf"
    remember_printer(Printer("Shed", "letter", 1.0, 1.006, (0.0, 0.001)))
    remember_printer(Printer("Office", "letter", 1.0, 1.006, (0.0, 0.001)))
    held = json.loads(settings_file().read_text())
    held["printers"][0][field] = value
    settings_file().write_text(json.dumps(held))
    for word in ("template", "coupons", "gauge", "bars"):
        assert main([word, str(EXAMPLE), "--printer", "Office", "--paper", "letter", "--to", str(out)]) == 2
        said = capsys.readouterr().err
        assert said.startswith('boltwell: The saved correction of "Office" on letter is more than 3 %. No printer needs that.')
        assert len(said.splitlines()) == 1
        assert not out.exists()
    assert main(["coupons", str(EXAMPLE), "--printer", "Shed", "--paper", "letter", "--to", str(out)]) == 0
    words = ["template", str(EXAMPLE), "--printer", "Office", "--paper", "letter", "--to", str(out)]
    assert main([*words, "--bars", "227.1 mm, 151.4 mm"]) == 0
    assert main(words) == 0
    assert "across × 1.0066" in words_of(out)


@pytest.mark.usefixtures("own_settings")
@pytest.mark.parametrize("bars", [(), ("--bars", "227.1 mm, 151.4 mm")])
def test_a_printer_s_name_that_is_no_text_is_refused(tmp_path, capsys, bars):
    """As a terminal of another encoding passes it on."""
    out = tmp_path / "out.pdf"
    words = ["template", str(EXAMPLE), "--to", str(out), "--printer", os.fsdecode(b"B\xfcro"), *bars]
    assert main(words) == 2
    assert capsys.readouterr().err.startswith("boltwell: The printer's name 'B\\udcfcro' is no text.")
    assert not out.exists()


@pytest.mark.usefixtures("own_settings")
@pytest.mark.parametrize("factor", [0.971, 1.0309])
def test_a_factor_just_within_3_percent_is_taken(tmp_path, factor):
    """1/1.03 = 0.97087 and 1/0.97 = 1.03093."""
    remember_printer(Printer("Office", "letter", factor, 1.0, (0.001, 0.0)))
    words = ["coupons", str(EXAMPLE), "--printer", "Office", "--paper", "letter", "--to", str(tmp_path / "out.pdf")]
    assert main(words) == 0


@pytest.mark.usefixtures("own_settings")
def test_bars_of_a_corrected_print_go_on_from_it(tmp_path, capsys):
    out = tmp_path / "out.pdf"
    words = ["template", str(EXAMPLE), "--printer", "Office", "--paper", "letter", "--to", str(out), "--bars"]
    assert main([*words, "227.1 mm, 152.4 mm"]) == 0
    assert "across × 1.0066 ± 0.0011" in words_of(out)
    assert main([*words, "228.6 mm, 152.4 mm"]) == 2  # as long as they say now: true
    assert "the correction that it has is good" in capsys.readouterr().err
    assert main([*words, "228.1 mm, 6 in"]) == 0
    assert "across × 1.0088 ± 0.0011" in words_of(out)  # 228.6/227.1 · 228.6/228.1


@pytest.mark.usefixtures("own_settings")
def test_the_same_command_again_gives_the_same_sheets(tmp_path, capsys):
    """Nobody has printed in between: 0.7 % is not corrected by again, and it is said what the bars are taken for."""
    words = ["template", str(EXAMPLE), "--printer", "Office", "--paper", "letter", "--bars", "227.1 mm, 151.4 mm", "--to"]
    made = [tmp_path / f"{number}.pdf" for number in range(3)]
    messages = []
    for path in made:
        assert main([*words, str(path)]) == 0
        messages.append(capsys.readouterr().err)
    assert made[0].read_bytes() == made[1].read_bytes() == made[2].read_bytes()
    assert "The bars count as read on an uncorrected print." in messages[0]
    same = "The bars read the same as last time. The correction stays across × 1.0066 ± 0.0011"
    assert all(same in message for message in messages[1:])
    assert main([*words[:-2], "228.1 mm, 6", "--to", str(made[0])]) == 0
    assert "The bars count as read on a print corrected by across × 1.0066 ± 0.0011" in capsys.readouterr().err


@pytest.mark.usefixtures("own_settings")
def test_without_a_printers_name_it_is_said_that_a_second_reading_forgets_the_first(tmp_path, capsys):
    path, out = tmp_path / "roomy.boltwell", tmp_path / "out.pdf"
    path.write_text(to_text(roomy()), encoding="utf-8")  # sheets that nobody may drill by say nothing of bars
    words = ["template", str(path), "--paper", "letter", "--to", str(out), "--inside", "--bars", "227.1 mm, 151.4 mm"]
    assert main(words) == 0
    message = capsys.readouterr().err
    assert "count as read on an uncorrected print. For bars of a corrected print, give the --printer" in message
    sheets = words_of(out)
    assert sheets.count("These sheets are corrected. If a bar is off, print the page of bars without a correction.") == 2
    assert main([*words, "--printer", "Office"]) == 0
    sheets = words_of(out)
    assert sheets.count("If a bar is off, type in its length for the printer Office, then print again.") == 2
    assert main(["--help"]) == 0
    assert "Bars without --printer belong to a print without a correction" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("bars", "phrase"),
    [
        ("192 mm, 120 mm", "more than 3 % off"),
        ("7 1/2, 6", "9 in long; 7 1/2 in is more than 3 % off"),
        ("228.7 mm, 152.4 mm", "no correction is needed"),
        ("x, y", "does not read as a length"),
    ],
)  # fmt: skip
def test_bars_that_no_correction_comes_of_are_one_sentence_and_no_file(tmp_path, capsys, bars, phrase):
    out = tmp_path / "out.pdf"
    assert main(["template", str(EXAMPLE), "--to", str(out), "--paper", "letter", "--bars", bars]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert phrase in line
    assert list(tmp_path.iterdir()) == []


# Every paper has its word


PAPERS = ["template", "bars", "coupons", "gauge", "plate", "measure", "sheet"]


@pytest.fixture(scope="module")
def plated(tmp_path_factory):
    """A boat with a backing plate."""
    path = tmp_path_factory.mktemp("boat") / "plated.boltwell"
    path.write_text(design_text("thrice-drilled-runabout"), encoding="utf-8")
    return path


@pytest.mark.parametrize("word", PAPERS)
def test_every_paper_has_a_word_and_is_written_whole(plated, tmp_path, capsys, word):
    out = tmp_path / "out.pdf"
    assert main([word, str(plated), "--to", str(out)]) == 0
    captured = capsys.readouterr()
    assert captured.out == ""
    assert f"{len(sizes(out))} sheet" in captured.err
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.skipif(not Path("/dev/full").is_char_device(), reason="asks for a device that is always full")
@pytest.mark.parametrize("word", PAPERS)
def test_a_full_disk_is_one_sentence(plated, capsys, word):
    assert main([word, str(plated), "--to", "/dev/full"]) == 2
    assert capsys.readouterr().err.splitlines()[-1] == (
        "boltwell: /dev/full can't be written: the disk is full. Make room, or choose another disk."
    )
    assert Path("/dev/full").is_char_device()  # nothing has taken its place


@pytest.mark.parametrize("word", PAPERS)
def test_a_disk_that_fills_up_leaves_the_old_file_and_nothing_half_written(plated, tmp_path, monkeypatch, capsys, word):
    out = tmp_path / "out.pdf"
    out.write_bytes(b"the last print")

    def full(_handle):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert main([word, str(plated), "--to", str(out), "--force"]) == 2
    assert "the disk is full" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == [out]
    assert out.read_bytes() == b"the last print"


@pytest.mark.parametrize("word", PAPERS)
def test_a_folder_that_may_not_be_written_is_one_sentence(plated, tmp_path, monkeypatch, capsys, word):
    """The refusal is the system's own (root is refused nothing, so it is put in its mouth)."""
    real_path = builtins.open

    def refusing(path, mode="r", *rest, **how):
        if "x" in mode and Path(path).parent == tmp_path:
            raise PermissionError(errno.EACCES, "Permission denied")
        return real_path(path, mode, *rest, **how)

    monkeypatch.setattr(builtins, "open", refusing)
    assert main([word, str(plated), "--to", str(tmp_path / "out.pdf")]) == 2
    assert "writing there is not allowed" in capsys.readouterr().err.splitlines()[-1]
    assert list(tmp_path.iterdir()) == []


# SVG in millimetres


SVG = "{http://www.w3.org/2000/svg}"


def circles(path):
    """Return (x, y up, radius) of all circles of an SVG file [mm], read by the standard library's parser."""
    root = Tree.parse(path).getroot()
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    assert [float(root.attrib[side].removesuffix("mm")) for side in ("width", "height")] == [width, height]
    return [(float(c.attrib["cx"]), height - float(c.attrib["cy"]), float(c.attrib["r"])) for c in root.iter(f"{SVG}circle")]


def test_template_and_inside_sheet_as_svg_are_one_sheet_each_in_millimetres(tmp_path, capsys):
    """By hand: 12-7/8 in between the upper holes, 9-7/8 in between the lower ones; the inside is a mirror of it.

    The example may have one pilot only, so its holes are circles of 1/8 in, and no final circle is there to drill by.
    """
    out = tmp_path / "boat.svg"
    assert main(["template", str(EXAMPLE), "--to", str(out), "--inside"]) == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["boat, inside sheet.svg", "boat.svg"]
    assert "boat, inside sheet.svg" in capsys.readouterr().err
    for path in tmp_path.iterdir():
        assert not [r for _, _, r in circles(path) if abs(r - 6.75) < 0.1]
        holes = sorted({(round(x, 3), round(y, 3)) for x, y, r in circles(path) if abs(r - 25.4 / 16) < 1e-3})
        assert len(holes) == 4
        upper = [x for x, y in holes if y == max(y for _, y in holes)]
        lower = [x for x, y in holes if y == min(y for _, y in holes)]
        assert upper[1] - upper[0] == pytest.approx(12.875 * 25.4, abs=0.002)
        assert lower[1] - lower[0] == pytest.approx(9.875 * 25.4, abs=0.002)
    first = out.read_bytes()
    assert main(["template", str(EXAMPLE), "--to", str(out)]) == 0
    assert out.read_bytes() == first


def test_a_backing_plate_as_svg(plated, tmp_path):
    out = tmp_path / "plate.svg"
    assert main(["plate", str(plated), "--to", str(out)]) == 0
    assert len(circles(out)) == 2


@pytest.mark.parametrize(
    ("words", "phrase"),
    [
        (["gauge"], "The gauge can't be an SVG."), (["coupons"], "can't be an SVG"), (["bars"], "can't be an SVG"),
        (["template", "--paper", "a4"], "one sheet for a cutter"), (["template", "--bars", "1,2"], "one sheet for a cutter"),
    ],
)  # fmt: skip
def test_what_an_svg_is_not_for_is_said(tmp_path, capsys, words, phrase):
    out = tmp_path / "out.svg"
    assert main([words[0], str(EXAMPLE), "--to", str(out), *words[1:]]) == 2
    assert phrase in capsys.readouterr().err
    assert not out.exists()


def test_no_backing_plate_is_one_sentence_and_no_file(tmp_path, capsys):
    for name in ("plate.pdf", "plate.svg"):
        assert main(["plate", str(EXAMPLE), "--to", str(tmp_path / name)]) == 2
        assert "no backing plate" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_where_it_cannot_be_written_it_is_said(tmp_path, capsys):
    out = tmp_path / "missing" / "sheet.pdf"
    assert main(["sheet", str(EXAMPLE), "--to", str(out)]) == 2
    assert "there is no folder" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_demo_does_the_whole_job_without_a_screen(tmp_path):
    bare = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    bare.pop("QT_QPA_PLATFORM", None)
    bare["PYTHONPATH"] = str(ROOT)
    command = [sys.executable, "-c", "import sys; from app.commands.command_line import main; sys.exit(main())", "demo"]
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
