"""The command line: exit codes, the texts of each stream, the JSON field by field."""

import io
import json
import os
import re
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.commands.command_line import commands, main
from geometry.decide.alternatives import low_enough, seat_rungs, seats
from geometry.decide.ladder import ladders
from geometry.design_text import from_text, to_text
from geometry.doubt.spreads import with_spreads
from geometry.edits.confirm_or_buy import bought, parts
from geometry.edits.starting_shapes import starts
from geometry.judge.check import check
from geometry.judge.findings import WORSE
from tests.designs import sure

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = Path(__file__).with_name("example.boltwell")
DESIGN = from_text(EXAMPLE.read_bytes())
NEVER = ("error", "invalid", "please", "successfully", "oops", "must")
FIELDS = ["check", "at", "value", "least", "advised", "unit", "state", "spread", "chance", "text", "remedy", "guesses",
          "family", "against", "flip"]  # fmt: skip
NUMBERS = ("value", "least", "advised", "spread", "chance")
UNITS = {"mm", "diameters", "degrees", "ratio"}


def changed(**fields):
    return msgspec.structs.replace(DESIGN, **fields)


def hung(**fields):
    return changed(mounts=(msgspec.structs.replace(DESIGN.mounts[0], **fields),))


def clamped():
    """Return the boat with a bracket that hangs by its clamp screws."""
    raw = json.loads(to_text(DESIGN))
    mount = raw["mounts"][0]
    mount |= dict.fromkeys(("row", "upper_at", "drop", "upper_hardware", "lower_hardware"))
    mount["bracket"] |= {"kind": "clamp-on", "rows": None, "lower": None, "jaw": [30.0, 60.0],
                         "clamp_screws": {"half_spacing": 120.0, "depth": 90.0, "pads": [0.0, 6.0]}}  # fmt: skip
    return from_text(json.dumps(raw))


@pytest.fixture
def saved(tmp_path):
    """Write a design to a new file and return its path."""

    def write(design, name="boat.boltwell"):
        path = tmp_path / name
        path.write_text(to_text(design), encoding="utf-8")
        return path

    return write


def run(*words, env=None, stdout=subprocess.PIPE):
    """Run the command in a second process."""
    start = "import sys; from app.commands.command_line import main; sys.exit(main())"
    command = [sys.executable, "-c", start, *map(str, words)]
    return subprocess.run(
        command, cwd=ROOT, stdout=stdout, stderr=subprocess.PIPE, text=True, timeout=120, check=False,
        encoding="utf-8", env={**os.environ, **(env or {})},
    )  # fmt: skip


def one_sentence(captured):
    """Return the one line on standard error, having looked at how it speaks."""
    assert captured.out == ""
    (line,) = captured.err.splitlines()
    assert line.startswith("boltwell: ")
    assert not [word for word in NEVER if word in line.lower().split()]
    assert "Traceback" not in line
    return line


CODES = {
    "tight": (DESIGN, 0),
    "fouled": (hung(drop=203.2, row=0), 1),
    "unknown": (changed(transom=msgspec.structs.replace(DESIGN.transom, rake=None)), 1),
    "clear": (changed(mounts=()), 0),
}


@pytest.mark.parametrize("verdict", CODES)
def test_check_ends_with_what_its_verdict_says(verdict, saved, capsys):
    design, code = CODES[verdict]
    path = saved(design)
    before = path.read_bytes()
    assert main(["check", str(path), "--json"]) == code
    assert json.loads(capsys.readouterr().out)["verdict"] == verdict
    assert main(["check", str(path)]) == code
    assert path.read_bytes() == before


def test_the_example_fouled_as_it_should_be(saved, capsys):
    """Drop 8 in, 1st hole from the top: the lower washers foul by 35.9 mm. Calculated by hand:

    the holes are square and the transom does not taper, so the exits are 50.8 + 203.2 = 254.0 below the datum, and the
    washers' lowest points 38.1/2 deeper, at 273.05. The inside edge of a level cut is 44·tan 14° = 10.97 below the
    datum, the floor 236.03 below that, at 247.00. The corner between face and floor has 90° + 14° - 3° = 101°, and its
    corner radius of 12 reaches 12·cot 50.5° = 9.89 up the face, to 237.11. So 237.11 - 273.05 = -35.94.
    """
    path = saved(hung(drop=203.2, row=0))
    assert main(["check", str(path), "--json"]) == 1
    findings = json.loads(capsys.readouterr().out)["findings"]
    washers = [finding for finding in findings if finding["check"] == "washer" and finding["state"] == "fouled"]
    assert {finding["at"] for finding in washers} == {"main motor / lower port", "main motor / lower starboard"}
    assert all(finding["value"] == pytest.approx(-35.94, abs=0.01) for finding in washers)


def test_check_json_says_where_values_are_from_and_which_sizes_to_buy_clear(saved, capsys):
    """The outer washer has to span 1.5 times the slot. The inside one has a spread from its tolerance, and a limit."""
    start = starts()[0].design
    bought_design = bought(start, parts(start, 0, "lower"))
    main(["check", str(saved(bought_design)), "--json"])
    report = json.loads(capsys.readouterr().out)
    outside, inside = (f"mounts.0.lower_hardware.{part}.outer" for part in ("outside_washer", "washer"))
    origins = report["origins"]
    assert (origins[inside], origins["transom.top_cut"], origins["mounts.0.power_kw"]) == ("to buy", "guess", "not known")
    rows = {row["key"]: row for row in report["to_buy"]}
    assert len(rows) == 8
    assert inside not in report["guesses"]
    slot = start.mounts[0].bracket.lower.diameter
    assert rows[outside] == {
        "key": outside, "name": "Lower outer washer, outside", "value": 34.925, "tolerance": 0.762, "most": None,
        "least": pytest.approx(1.5 * slot, abs=1e-5),
    }  # fmt: skip
    assert rows[inside]["tolerance"] == 0.8


def said(err):
    """Return the text of standard error, without the progress of a slow machine."""
    return [line for line in err.splitlines() if not line.startswith("how sure each finding is")]


def test_check_json_field_by_field(capsys):
    assert main(["check", str(EXAMPLE), "--json"]) == 0
    captured = capsys.readouterr()
    assert said(captured.err) == []
    report = json.loads(captured.out, parse_constant=lambda name: pytest.fail(f"{name} in JSON"))
    assert list(report) == ["name", "verdict", "drillable", "reasons", "guesses", "origins", "to_buy", "findings"]
    assert report["to_buy"] == []
    assert report["origins"]["transom.rake"] == "measured"
    assert "mounts.0.drop" not in report["origins"]  # a choice
    assert report["drillable"] == "pilot only"
    assert report["reasons"][0].startswith("Drill one pilot only, at the lower port hole.")
    assert "in only 83 of 100 cases" in report["reasons"][1]
    assert (report["name"], report["verdict"], report["guesses"]) == ("example", "tight", [])
    checked = with_spreads(check(DESIGN))
    assert len(report["findings"]) == len(checked.findings) > 10
    for entry, finding in zip(report["findings"], checked.findings, strict=True):
        assert list(entry) == FIELDS
        for field in NUMBERS:
            assert entry[field] == pytest.approx(getattr(finding, field), abs=5.1e-7)
            assert entry[field] is None or round(entry[field], 6) == entry[field]
        assert entry["unit"] in UNITS
        assert entry["state"] in WORSE
        assert entry["text"].endswith(".")
        assert entry["remedy"] is None or isinstance(entry["remedy"], str)
        assert entry["guesses"] == list(finding.guesses)
        assert (entry["check"], entry["at"], entry["state"]) == (finding.check, finding.at, finding.state)
        assert (entry["text"], entry["remedy"]) == (finding.text, finding.remedy)
    states = [WORSE.index(entry["state"]) for entry in report["findings"]]
    assert states == sorted(states, reverse=True)


def test_rows_json_field_by_field(capsys):
    """Usable holes at drops of 8, 7-1/4 and 6-1/2 in, by index: 0-4, 1-4 and 2-4. Common practice, and they follow by hand.

    Hole k is usable where a slot from 8 to 11 in below hole 0 takes a bolt 3/4·k + drop below hole 0. The hook's gap of
    0 + 3/4·k in must not be negative: 8 <= 3/4·k + drop <= 11.
    """
    assert main(["rows", str(EXAMPLE), "--json"]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    report = json.loads(captured.out)
    assert list(report) == ["name", "mounts"]
    (mount,) = report["mounts"]
    assert list(mount) == ["mount", "hardware", "lowest_plate", "rows"]
    assert mount["mount"] == "main motor"
    assert list(mount["lowest_plate"]) == ["advised", "least"]
    (ladder,) = ladders(DESIGN)
    assert mount["lowest_plate"]["advised"] == pytest.approx(ladder.lowest.advised, abs=1e-6)
    for row, rung in zip(mount["rows"], ladder.rungs, strict=True):
        assert list(row) == ["drop", "row", "state", "saddle_gap", "plate_height", "rows_left", "slot_end", "worst"]
        assert list(row["worst"]) == ["check", "at", "value"]
        assert (row["row"], row["state"], row["rows_left"]) == (rung.row, rung.state, list(rung.rows_left))
        assert row["saddle_gap"] == pytest.approx(19.05 * row["row"], abs=1e-6)
        below = 19.05 * row["row"] + row["drop"]  # of the bolt below the 1st hole, in a slot from 8 to 11 in
        assert row["slot_end"] == pytest.approx(min(below - 203.2, 279.4 - below), abs=1e-6)
    by_drop = {row["drop"]: row["rows_left"] for row in mount["rows"]}
    assert by_drop[203.2] == [0, 1, 2, 3, 4]
    assert by_drop[184.15] == [1, 2, 3, 4]
    assert by_drop[165.1] == [2, 3, 4]
    assert [row["row"] for row in mount["rows"] if row["drop"] == 165.1] == [0, 1, 2, 3, 4]


@pytest.mark.parametrize(("word", "kind"), [("whole", "plain"), ("cut", "cut"), ("backing", "plate")])
def test_rows_with_each_kind_of_hardware_are_those_of_the_screen(word, kind, saved, capsys):
    path = saved(DESIGN)
    assert main(["rows", str(path), "--hardware", word, "--json"]) == 0
    (mount,) = json.loads(capsys.readouterr().out)["mounts"]
    seat = next(seat for seat in seats(DESIGN, 0) if seat.kind == kind)
    way = next(way for way in low_enough(DESIGN, 0).ways if way.seat.kind == kind)
    assert mount["lowest_plate"]["advised"] == pytest.approx(way.advised, abs=1e-6)
    on_screen = [(rung.drop, rung.row, rung.state) for rung in seat_rungs(DESIGN, 0, seat)]
    assert [(row["drop"], row["row"], row["state"]) for row in mount["rows"]] == on_screen
    assert main(["rows", str(path), "--hardware", word]) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"main motor, {mount['hardware'].lower()}: the lowest AV plate")
    assert (", now" in said) == seat.present  # with other hardware nothing hangs so now


def test_rows_that_other_hardware_clears(saved, capsys):
    """In the 2nd hole at 8 in, the lower bolts are 8 3/4 in below the 1st, in a slot from 8 to 11 in: 3/4 in from its end."""
    path = saved(hung(drop=203.2))
    said = {}
    for word in ("whole", "cut"):
        main(["rows", str(path), "--hardware", word])
        said[word] = capsys.readouterr().out.split("drop 7 1/4")[0]
    assert "limited by lower port washer" in said["whole"]
    assert said["whole"] != said["cut"]
    second = said["whole"].split("2nd hole")[1].splitlines()
    assert second[1].strip() == "slot's end 3/4 in away"


def test_rows_name_the_kinds_that_there_are(saved, capsys):
    assert main(["rows", str(saved(DESIGN)), "--hardware", "round"]) == 2
    assert "whole, cut or backing" in capsys.readouterr().err
    fitted = sure(DESIGN.mounts[0].lower_hardware)
    bare = msgspec.structs.replace(fitted, washer=msgspec.structs.replace(fitted.washer, outer=None))
    assert main(["rows", str(saved(hung(lower_hardware=bare))), "--hardware", "cut"]) == 2
    assert "The washer's size is not known" in capsys.readouterr().err


def test_rows_of_what_hangs_by_clamps_or_is_not_there(saved, capsys):
    assert main(["rows", str(saved(clamped())), "--json"]) == 0
    (mount,) = json.loads(capsys.readouterr().out)["mounts"]
    assert mount["rows"] == []
    assert mount["lowest_plate"] == {"advised": None, "least": None}
    assert main(["rows", str(saved(clamped()))]) == 0
    assert "clamp screws" in capsys.readouterr().out
    assert main(["rows", str(saved(changed(mounts=()))), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["mounts"] == []
    assert main(["rows", str(saved(changed(mounts=())))]) == 0
    assert capsys.readouterr().out == "No motor is hung on this boat yet.\n"


def test_rows_that_hang_on_what_is_not_measured_are_not_called_none(saved, capsys):
    """Without the upper holes' depth no hook gap is known; at 7-5/8 in drop two round holes leave no usable hole."""
    main(["rows", str(saved(hung(upper_at=None)))])
    assert "drop 8 in, usable holes: not known" in capsys.readouterr().out
    bracket = DESIGN.mounts[0].bracket
    lower = msgspec.structs.replace(sure(bracket.lower), slots=((203.2, 203.2), (222.25, 222.25)))
    main(["rows", str(saved(hung(drop=7.625 * 25.4, bracket=msgspec.structs.replace(bracket, lower=lower))))])
    assert "drop 7 5/8 in, usable holes: none" in capsys.readouterr().out


def test_check_for_a_person(saved, capsys):
    path = saved(hung(drop=203.2))
    assert main(["check", str(path)]) == 1
    captured = capsys.readouterr()
    assert said(captured.err) == []
    lines = captured.out.splitlines()
    assert lines[0].startswith("Don't drill here: both lower washers overlap the well floor")
    words = "fouled|not checked|tight|near the limit|clear|within limits|note"
    states = re.findall(rf"^({words})  +\S", "\n".join(lines), re.MULTILINE)
    order = [{"fouled"}, {"not checked"}, {"tight", "near the limit"}, {"clear", "within limits"}, {"note"}]
    places = [next(place for place, words in enumerate(order) if state in words) for state in states]
    assert places == sorted(places)
    assert {"fouled", "tight", "near the limit", "clear", "note"} <= set(states)
    assert any(line.startswith("fouled          Both lower washers: −1 7/16 in. ") for line in lines)
    assert any(line.startswith("                  Raise the lower bolts") for line in lines)


def test_in_the_persons_own_unit(saved, capsys):
    main(["check", str(saved(changed(units="mm")))])
    output = capsys.readouterr().out
    assert "Both lower washers: 2 mm." in output
    assert not re.search(r"\d in\b", output)
    main(["rows", str(saved(changed(units="mm")))])
    assert "drop 165.1 mm, usable holes: 3rd to 5th" in capsys.readouterr().out


@pytest.mark.parametrize("columns", [40, 60, 80, 100])
def test_wrapped_to_the_terminal(columns, monkeypatch, capsys):
    monkeypatch.setenv("COLUMNS", str(columns))
    for command in ("check", "rows"):
        main([command, str(EXAMPLE)])
        output = capsys.readouterr().out
        if command == "check" or columns >= 80:  # the columns of the rows need their room
            assert max(map(len, output.splitlines())) <= columns
        assert not re.search(r"\d\n +(\d+/\d+|in|mm|diameters)\b", output)  # figures stay whole


BAD = {
    "missing": None,
    "cut off": EXAMPLE.read_bytes()[:2000],
    "from the future": EXAMPLE.read_bytes().replace(b'"boltwell": 1', b'"boltwell": 7', 1),
    "misspelt": EXAMPLE.read_bytes().replace(b'"deadrise"', b'"deadrice"', 1),
    "impossible": EXAMPLE.read_bytes().replace(b'"outer": 38.1, "inner": 13.5', b'"outer": 13.1, "inner": 13.5', 1),
}


@pytest.mark.parametrize("case", BAD)
@pytest.mark.parametrize("words", [["check", "FILE"], ["check", "FILE", "--json"], ["rows", "FILE", "--json"],
                                   ["template", "FILE", "--to", "OUT"], ["sheet", "FILE", "--to", "OUT"]])  # fmt: skip
def test_bad_input_gets_one_sentence_and_stays_as_it_is(case, words, tmp_path, capsys):
    path, out = tmp_path / "boat.boltwell", tmp_path / "out.pdf"
    raw = BAD[case]
    if raw is not None:
        path.write_bytes(raw)
    assert main([{"FILE": str(path), "OUT": str(out)}.get(word, word) for word in words]) == 2
    assert "boat.boltwell" in one_sentence(capsys.readouterr())
    assert not out.exists()
    assert (path.read_bytes() if path.exists() else None) == raw


@pytest.mark.parametrize(
    ("words", "phrase"),
    [
        (["chek"], 'Unknown command "chek". Commands: demo, check, rows, '),
        (["--json"], 'Unknown command "--json". Commands: '),
        (["plan", "x"], 'Unknown command "plan". Commands: '),
        (["check"], "check needs FILE. Usage: boltwell check FILE [--json]"),
        (["check", "a", "b"], "check does not take b. Usage: "),
        (["check", "a", "--jso"], "check does not take --jso"),
        (["check", "a", "--json=yes"], "--json takes no value"),
        (["template", "a"], "template needs --to. Usage: boltwell template FILE --to OUT.pdf"),
        (["template", "a", "--to"], "template needs a value after --to"),
        (["template", "a", "--to", "b.pdf", "--outside"], "template does not take --outside"),
        (["sheet", "a", "--to", "b.boltwell"], "b.boltwell is a name for a design"),
    ],
)
def test_bad_usage_gets_one_sentence(words, phrase, capsys):
    assert main(words) == 2
    assert phrase in one_sentence(capsys.readouterr())


def test_the_design_itself_is_no_place_for_a_pdf(tmp_path, capsys):
    path = tmp_path / "boat.json"
    path.write_bytes(EXAMPLE.read_bytes())
    assert main(["template", str(path), "--to", str(path)]) == 2
    assert "holds a design" in one_sentence(capsys.readouterr())
    assert path.read_bytes() == EXAMPLE.read_bytes()


WORDS = st.sampled_from(["--json", "--to", "--paper", "--help", "--", "-", "-h", "a", "a.pdf", "--to=a.pdf", "--t", ""])
ANYTHING = st.text(st.characters(exclude_characters="\0"), max_size=12)  # no system passes a null in a word


@given(
    st.sampled_from(["check", "rows", "template", "sheet", "chek", "--json", ""]),
    st.lists(WORDS | ANYTHING, max_size=6),
)
def test_any_words_end_with_one_sentence_or_with_help(first, rest):
    errors, output = io.StringIO(), io.StringIO()
    with redirect_stderr(errors), redirect_stdout(output):
        code = main([first, *rest])
    if code == 0:
        assert output.getvalue().startswith("boltwell ")
        assert errors.getvalue() == ""
    else:
        assert code == 2
        assert output.getvalue() == ""
        assert re.fullmatch(r"boltwell: .+\n", errors.getvalue(), re.DOTALL)
        assert "Traceback" not in errors.getvalue()


def test_help_names_every_command_and_no_other(capsys):
    assert main(["--help"]) == 0
    output = capsys.readouterr().out
    assert re.findall(r"^boltwell (\w+)", output, re.MULTILINE) == [command.name for command in commands()]
    assert len({command.name for command in commands()}) == len(commands())
    for command in commands():
        assert main([command.name, "--help"]) == 0
        assert capsys.readouterr().out.startswith(command.usage)


def test_check_starts_without_qt_and_without_the_pdf_writer():
    code = (
        "import sys; from app.commands.command_line import main; main(sys.argv[1:]);"
        "print(sorted({name.partition('.')[0] for name in sys.modules} & {'PySide6', 'reportlab', 'pypdfium2'}))"
    )
    command = [sys.executable, "-c", code, "check", str(EXAMPLE), "--json"]
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True, timeout=60)
    assert ran.stdout.splitlines()[-1] == "[]"


@pytest.mark.skipif(os.name == "nt", reason="a closed pipe is told otherwise there")
def test_a_reader_that_goes_away_is_no_fault():
    ends, starts = os.pipe()
    os.close(ends)
    ran = run("check", EXAMPLE, stdout=starts)
    os.close(starts)
    assert (ran.returncode, said(ran.stderr)) == (0, [])


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="asks for a device that is always full")
def test_a_full_disk_behind_standard_output():
    with Path("/dev/full").open("wb") as full:
        ran = run("check", EXAMPLE, "--json", stdout=full.fileno())
    assert ran.returncode == 2
    (sentence,) = said(ran.stderr)
    assert "can't be written" in sentence


def test_a_terminal_with_few_letters_still_gets_its_signs(saved):
    ran = run("check", saved(hung(drop=203.2)), env={"PYTHONIOENCODING": "ascii"})
    assert ran.returncode == 1
    assert "Don't drill here" in ran.stdout
    assert "Both lower washers: -1 7/16 in." in ran.stdout


def test_a_name_cannot_steer_the_terminal(saved, capsys):
    main(["check", str(saved(changed(name="a\x1b[2Jb\x07")))])
    output = capsys.readouterr().out
    assert "\x1b" not in output
    assert "\x07" not in output
    assert "a\N{REPLACEMENT CHARACTER}[2Jb" in output


def test_rows_call_each_height_as_the_card_does(saved, capsys):
    """The example hangs in the 3rd hole from the top, at 6 1/2 in. No figure is finer than a tape shows."""
    assert main(["rows", str(saved(hung(row=2)))]) == 0
    said = capsys.readouterr().out
    assert "3rd hole from the top (two holes up), now" in said
    assert "1st hole from the top (lowest) " in said
    assert all(int(bottom) <= 16 for bottom in re.findall(r"\d/(\d+) in", said))
    assert max(map(len, said.splitlines())) <= 80
