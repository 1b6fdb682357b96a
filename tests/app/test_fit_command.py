"""The command `fit`: exit codes, what it says, and what it saves."""

import json
from importlib.resources import files
from pathlib import Path

import pytest

from app.commands.fit_command import run
from app.document.files import FileError, read_design
from geometry.decide.fit import fits
from geometry.design_text import to_text
from geometry.errors import OwnerError
from geometry.judge.check import check
from tests.designs import changed, clamp_on_mount, example_design

SKIFF = Path(str(files("assets") / "designs" / "shallow-well-skiff.boltwell"))
NEVER = ("error", "invalid", "please", "successfully", "oops", "must")
FIELDS = [
    "state", "row", "drop", "upper_at", "offset", "upper_tilt", "lower_tilt", "hardware", "rows_left", "room", "plate_height",
    "reused", "governs", "costs",
]  # fmt: skip


@pytest.fixture
def saved(tmp_path):
    """Write a design to a new file and return its path."""

    def write(design):
        path = tmp_path / "boat.boltwell"
        path.write_text(to_text(design), encoding="utf-8")
        return path

    return write


def too_shallow():
    profile = ((-320, 0), (-300, -150.0), (300, -150.0), (320, 0))
    return changed(example_design(), well__profile=profile, inside_blocks=(), old_holes=())


def test_json_field_by_field(capsys):
    assert run(SKIFF, as_json=True) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    report = json.loads(captured.out, parse_constant=lambda name: pytest.fail(f"{name} in JSON"))
    assert list(report) == ["name", "mounts"]
    (mount,) = report["mounts"]
    assert list(mount) == ["mount", "fits", "miss", "measure"]
    assert (mount["mount"], mount["miss"], mount["measure"]) == ("main motor", None, None)
    expected = fits(read_design(SKIFF)[0])
    assert len(mount["fits"]) == len(expected) > 1
    for said, fit in zip(mount["fits"], expected, strict=True):
        assert list(said) == FIELDS
        for name in ("drop", "upper_at", "offset", "room", "plate_height"):
            assert said[name] == pytest.approx(getattr(fit, name), abs=1e-6)
        assert said["rows_left"] == list(fit.rows_left)
        assert said["governs"]["check"] == fit.governs.check


def test_the_best_is_saved_and_passes(tmp_path, capsys):
    out = tmp_path / "best.boltwell"
    assert run(SKIFF, as_json=False, save=out) == 0
    captured = capsys.readouterr()
    assert "saved as" in captured.err
    design, _ = read_design(out)
    assert design.mounts == fits(read_design(SKIFF)[0])[0].design.mounts
    assert check(design).verdict in ("clear", "tight")
    # The demonstration's mark does not go with it.
    assert not design.demonstration


def test_it_speaks_plainly(capsys):
    assert run(SKIFF, as_json=False) == 0
    text = capsys.readouterr().out
    assert text.startswith("main motor: ")
    assert "the best first" in text
    assert "drop 7 5/16 in, 2nd hole from the top (one hole up), upper holes " in text
    assert "usable holes: " in " ".join(text.split())
    assert "(row" not in text
    assert not [word for word in NEVER if word in text.lower().split()]


def test_a_boat_that_is_there_is_not_saved_over(saved, tmp_path):
    """Neither the boat that is searched nor another."""
    path, other = saved(example_design()), tmp_path / "other.boltwell"
    other.write_text("mine")
    for out in (path, other):
        before = out.read_bytes()
        with pytest.raises(OwnerError, match="exists already"):
            run(path, as_json=False, save=out)
        assert out.read_bytes() == before


def test_a_miss_ends_with_1_and_saves_nothing(saved, tmp_path, capsys):
    path, out = saved(too_shallow()), tmp_path / "out.boltwell"
    assert run(path, as_json=False, save=out) == 1
    captured = capsys.readouterr()
    assert "nothing fits. The well's floor would have to be" in " ".join(captured.out.split())
    assert "Nothing is saved" in captured.err
    assert not out.exists()
    assert run(path, as_json=True) == 1
    (mount,) = json.loads(capsys.readouterr().out)["mounts"]
    assert mount["fits"] == []
    assert list(mount["miss"]) == [*FIELDS, "change"]


def test_what_has_to_be_measured_is_said(saved, capsys):
    assert run(saved(changed(example_design(), transom__rake=None)), as_json=False) == 1
    assert "Measure rake first" in capsys.readouterr().out


def test_a_motor_that_clamps_on_needs_no_fit(saved, capsys):
    assert run(saved(changed(example_design(), mounts=(clamp_on_mount(),))), as_json=False) == 0
    assert "nothing to drill" in capsys.readouterr().out


def test_no_motor_at_all(saved, capsys):
    assert run(saved(changed(example_design(), mounts=())), as_json=False) == 0
    assert "No motor is hung" in capsys.readouterr().out


def test_a_file_that_is_not_there(tmp_path):
    with pytest.raises(FileError, match="no file"):
        run(tmp_path / "none.boltwell", as_json=True)
