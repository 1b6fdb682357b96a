"""A sheet, a drawing or a picture never replaces a design, and a foreign file only with --force."""

import os
from pathlib import Path

import pytest

from app.commands.command_line import main
from app.document.files import FileError
from app.document.outputs import holds_design, is_ours, refuse_to_replace, write_output

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = Path(__file__).with_name("example.boltwell")
SKIFF = ROOT / "assets" / "designs" / "shallow-well-skiff.boltwell"
MINE = b"%PDF-1.7 my own drawing of the boat"

posix_only = pytest.mark.skipif(os.name == "nt", reason="asks for links or devices")


def sentence(capsys):
    """Return the one sentence on standard error."""
    captured = capsys.readouterr()
    (line,) = [line for line in captured.err.splitlines() if line.startswith("boltwell: ")]
    assert "Traceback" not in captured.err
    return line


@pytest.fixture
def boat(tmp_path):
    path = tmp_path / "boat.boltwell"
    path.write_bytes(SKIFF.read_bytes())
    return path


def linked(link, path):
    link.symlink_to(path)
    return link


WAYS = {
    "itself": lambda boat, _link: boat,
    "a link": lambda boat, link: linked(link, boat),
    "a link to a link": lambda boat, link: link.symlink_to(linked(link.with_name("between.pdf"), boat)) or link,
    "a hard link": lambda boat, link: link.hardlink_to(boat) or link,
    "another spelling": lambda boat, _link: boat.parent / ".." / boat.parent.name / boat.name,
    "a copy under another name": lambda boat, link: link.write_bytes(boat.read_bytes()) and link,
    "a damaged one": lambda boat, link: link.write_bytes(boat.read_bytes()[:900]) and link,
    "a newer program's": lambda _boat, link: link.write_bytes(b'\xef\xbb\xbf{"boltwell": 99}') and link,
    "a link to no design yet": lambda boat, link: linked(link, boat.with_name("new.boltwell")),
}  # fmt: skip


@posix_only
@pytest.mark.parametrize("force", [(), ("--force",)], ids=["unasked", "forced"])
@pytest.mark.parametrize("way", WAYS)
def test_no_paper_takes_the_place_of_a_design(way, force, boat, tmp_path, capsys):
    out = WAYS[way](boat, tmp_path / "out.pdf")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir() if path.exists()}
    assert main(["sheet", str(EXAMPLE), "--to", str(out), *force]) == 2
    assert "design" in sentence(capsys)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir() if path.exists()} == before


@posix_only
@pytest.mark.parametrize("force", [False, True])
def test_what_came_to_be_a_design_meanwhile_is_seen_when_the_paper_is_written(boat, tmp_path, force):
    out = tmp_path / "out.pdf"
    refuse_to_replace(out, force=force)
    out.symlink_to(boat)
    with pytest.raises(FileError, match="a name for a design"):
        write_output(out, MINE, force=force)
    assert boat.read_bytes() == SKIFF.read_bytes()


def test_another_file_is_replaced_only_with_force(tmp_path, capsys):
    out = tmp_path / "out.pdf"
    out.write_bytes(MINE)
    assert main(["measure", str(EXAMPLE), "--to", str(out)]) == 2
    assert sentence(capsys).endswith("Choose another name, or replace it with --force.")
    assert out.read_bytes() == MINE
    assert main(["measure", str(EXAMPLE), "--to", str(out), "--force"]) == 0
    assert is_ours(out.read_bytes())


def test_its_own_sheet_is_replaced_and_one_with_added_notes_is_not(tmp_path, capsys):
    """Equal designs give equal bytes on a day: a second run is no loss. Notes written on it would be one."""
    out = tmp_path / "out.pdf"
    words = ["sheet", str(EXAMPLE), "--to", str(out)]
    assert main(words) == 0
    first = out.read_bytes()
    assert main(words) == 0
    assert out.read_bytes() == first
    capsys.readouterr()
    start = first.rindex(b"startxref")  # a note, as a viewer adds it: after all that is there, with a second table
    noted = first + b"\n99 0 obj\n<< /Type /Annot >>\nendobj\n" + first[start:]
    out.write_bytes(noted)
    assert main(words) == 2
    assert "no paper of this program" in sentence(capsys)
    assert out.read_bytes() == noted


def test_an_empty_file_holds_nothing_to_lose(tmp_path):
    out = tmp_path / "out.pdf"
    out.touch()
    assert main(["sheet", str(EXAMPLE), "--to", str(out)]) == 0
    assert is_ours(out.read_bytes())


def test_drawings_for_a_cutter_are_known_again_and_all_are_asked_for_before_one_is_written(tmp_path, capsys):
    out, inside = tmp_path / "cut.svg", tmp_path / "cut, inside sheet.svg"
    words = ["template", str(EXAMPLE), "--to", str(out), "--inside"]
    assert main(words) == 0
    made = {path: path.read_bytes() for path in tmp_path.glob("*.svg")}
    assert {out, inside} <= set(made)
    assert all(map(is_ours, made.values()))
    assert main(words) == 0
    inside.write_bytes(b"<?xml version='1.0'?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"/>")
    out.unlink()
    capsys.readouterr()
    assert main(words) == 2
    assert inside.name in sentence(capsys)
    assert not out.exists()
    assert main([*words, "--force"]) == 0
    assert is_ours(inside.read_bytes())


def test_the_demonstration_takes_nobodys_file(qapp, tmp_path, capsys):
    words = ["demo", "--to", str(tmp_path), "--no-window"]
    (tmp_path / "face.png").write_bytes(b"\x89PNG a photo of a face")
    assert main(words) == 2
    assert "face.png" in sentence(capsys)
    assert [path.name for path in tmp_path.iterdir()] == ["face.png"]
    assert main([*words, "--force"]) == 0
    assert main(words) == 0  # all four are its own now
    assert len(list(tmp_path.iterdir())) == 4
    assert all(is_ours(path.read_bytes()) for path in tmp_path.iterdir())


def test_a_best_fit_is_saved_over_a_boat_only_by_force(boat, tmp_path, capsys):
    other = tmp_path / "other.boltwell"
    other.write_bytes(EXAMPLE.read_bytes())
    words = ["fit", str(boat), "--save", str(other)]
    assert main(words) == 2
    assert other.read_bytes() == EXAMPLE.read_bytes()
    assert "--force" in sentence(capsys)
    assert main([*words, "--force"]) == 0
    assert b"shallow" in other.read_bytes().lower()
    other.write_bytes(MINE)  # what is no design stays, forced or not
    capsys.readouterr()
    assert main([*words, "--force"]) == 2
    assert sentence(capsys).endswith("It stays as it is. Save under another name.")
    assert other.read_bytes() == MINE


@pytest.mark.parametrize(
    ("raw", "design", "ours"),
    [
        (b"", False, False),
        (b"{}", False, False),
        (b' \n{"name": "x", "boltwell": 1', True, False),
        (b"%PDF-1.7\n/Creator (Boltwell)", False, False),  # it breaks off: not as it was written
        (b"%PDF-1.7\n/Creator (Boltwell)\nstartxref\n", False, True),
        (b"%PDF-1.7\n/Creator (Other)\nstartxref\n", False, False),
        (b'<svg xmlns="http://www.w3.org/2000/svg" data-made-by="Boltwell" ', False, False),
    ],
)
def test_what_a_file_is_known_by(raw, design, ours):
    assert (holds_design(raw), is_ours(raw)) == (design, ours)


@posix_only
def test_a_pipe_that_is_read_gets_the_paper_and_one_that_nobody_reads_is_refused(tmp_path, capfd):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    assert main(["sheet", str(EXAMPLE), "--to", str(pipe)]) == 2
    assert "nobody reads from that pipe" in capfd.readouterr().err
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_output(pipe, b"%PDF in a pipe")
        assert os.read(reader, 100) == b"%PDF in a pipe"
    finally:
        os.close(reader)
