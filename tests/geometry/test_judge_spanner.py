"""The swing of a ring spanner: where it is checked, its states and words, and the socket that it replaces."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from app.findings.findings_text import finding_lines
from geometry.decide.cures import cure
from geometry.design.hardware import Socket
from geometry.doubt.spreads import with_spreads
from geometry.judge.check import check
from geometry.judge.drillable import drillable
from geometry.judge.words import answer, findings_rows
from geometry.solid.placed_bolts import bolts
from templates_out.drawing.marks import Arc, Path
from templates_out.pages.measuring.measuring_items import items
from templates_out.views.cut import cut_marks
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import fit, work_rect
from tests.designs import changed, clamp_on_mount, example_design, roomy, sure

LOWER = "main motor / lower starboard"
SPANNER, SOCKET = "mounts__0__lower_hardware__spanner", "mounts__0__lower_hardware__socket"


def turned_by(length=150.0, handle=16.0, swing=30.0, **values):
    """Return a boat with room for all, whose lower nuts are turned by a ring spanner and by no socket."""
    sizes = {f"{SPANNER}__length": length, f"{SPANNER}__handle": handle, f"{SPANNER}__swing": swing}
    return changed(roomy(units="mm"), **{f"{SOCKET}": None, **sizes, **values})


def finding_of(design, at=LOWER):
    return check(design).of("spanner", at)


def walled(port, starboard):
    """Return two upright blocks, 200 mm high, the inner sides of which are at these places left and right of the bolt."""
    blocks = example_design().inside_blocks
    bolt = 125.4125
    return tuple(
        replace(blocks[0], name=name, stands_out=40.0,
                outline=((u, -260.0), (u + 20.0, -260.0), (u + 20.0, -60.0), (u, -60.0)))
        for name, u in (("port knee", bolt - port - 20.0), ("starboard knee", bolt + starboard))
    )  # fmt: skip


def test_the_arc_between_two_knees_by_hand():
    """A handle of 100 x 10 between upright blocks, 35 to the left and 30 to the right of the bolt.

    Its corner at hypot(100, 5) = 100.1249 meets the right one at 90° less asin(30/100.1249) - atan(5/100) = 14.5727°, the left
    one at 90° and asin(35/100.1249) - 2.8624° = 17.5982°. The free arc up is 32.1709°.
    """
    finding = sure(finding_of(turned_by(100.0, 10.0, inside_blocks=walled(35.0, 30.0))))
    assert finding.value == pytest.approx(32.1709, abs=0.001)
    assert (finding.state, finding.unit, finding.least, finding.advised) == ("tight", "degrees", 30.0, 60.0)
    assert finding.text == (
        "The ring spanner on the lower starboard nut turns only 32° between the starboard knee and the port knee; "
        "60° is advised."
    )


@pytest.mark.parametrize(
    ("swing", "state", "limits"),
    [
        (32.18, "fouled", (32.18, 60.0)), (32.16, "tight", (32.16, 60.0)), (90.0, "fouled", (90.0, 90.0)),
        (15.0, "tight", (15.0, 60.0)),
    ],
)
def test_its_limits_are_the_swing_that_it_needs_and_60_degrees(swing, state, limits):
    finding = sure(finding_of(turned_by(100.0, 10.0, swing, inside_blocks=walled(35.0, 30.0))))
    assert (finding.state, finding.least, finding.advised) == (state, *limits)


def test_too_little_swing_stops_the_paper_and_a_short_one_does_not():
    design = turned_by(150.0, 20.0, inside_blocks=walled(20.0, 20.0))
    finding = sure(finding_of(design))
    assert finding.state == "fouled"
    assert finding.text.startswith("The ring spanner on the lower starboard nut turns only ")
    assert finding.text.endswith(" It needs 30°.")
    assert answer(check(design)).sentence.startswith("Don't drill here: ")
    assert any(reason.finding == finding for reason in drillable(check(design)).reasons)
    assert drillable(with_spreads(check(turned_by()))).answer == "yes"


def test_nothing_in_reach_is_a_whole_turn():
    finding = sure(finding_of(turned_by(30.0, 8.0)))
    assert (finding.value, finding.state) == (360.0, "clear")
    assert finding.text == "The ring spanner on the lower starboard nut turns all the way round."


@pytest.mark.parametrize("field", ["length", "handle", "swing"])
def test_a_missing_size_is_named_and_stops_the_holes(field):
    design = changed(turned_by(), **{f"{SPANNER}__{field}": None})
    finding = sure(finding_of(design))
    assert (finding.state, finding.value) == ("unknown", None)
    word = {"handle": "width"}.get(field, field)
    said = "The room to turn the nut of the lower starboard bolt is not checked yet"
    assert finding.text == f"{said}: lower ring spanner, {word} is not measured."
    assert finding.missing == f"mounts.0.lower_hardware.spanner.{field}"
    assert any(reason.finding == finding for reason in drillable(check(design)).reasons)


def test_it_is_no_concern_of_a_socket_that_fits_of_no_tool_and_of_a_clamp():
    assert finding_of(changed(turned_by(), **{SOCKET: roomy().mounts[0].lower_hardware.socket})) is None
    assert finding_of(changed(turned_by(), **{SPANNER: None})) is None
    assert finding_of(turned_by(), "main motor / upper port") is None
    checked = check(changed(example_design(), mounts=(clamp_on_mount(),)))
    assert not [finding for finding in checked.findings if finding.check == "spanner"]


def replaced(**values):
    """Return a boat whose lower sockets are too wide for the floor's corner, and whose ring spanners fit."""
    design = changed(turned_by(), mounts__0__drop=184.15, old_holes=())
    sockets = {SOCKET: Socket(outer=76.0, length=65.0)}
    return changed(design, **{**sockets, **values})


def test_where_the_socket_is_fouled_and_the_spanner_reaches_the_socket_is_a_note():
    checked = check(replaced())
    socket, spanner = sure(checked.of("socket", LOWER)), sure(checked.of("spanner", LOWER))
    assert (socket.state, socket.value) == ("note", None)
    assert socket.text.startswith("The lower starboard socket overlaps the ")
    assert socket.text.endswith(". The ring spanner reaches, so turn the nut with that.")
    assert spanner.state == "clear"
    assert not [reason for reason in drillable(checked).reasons if reason.kind == "fouled"]
    assert "socket" not in answer(checked).sentence


@pytest.mark.parametrize(
    ("values", "spanner"),
    [
        ({f"{SPANNER}__outer": 74.0}, 0.0),  # its ring does not fit either
        ({f"{SPANNER}__length": None}, None),  # nobody knows
        ({SPANNER: None}, None),
        ({f"{SPANNER}__swing": 359.0}, 100.0),  # it does not turn far enough
    ],
)
def test_the_socket_stays_fouled_where_the_spanner_does_not_reach(values, spanner):
    checked = check(replaced(**values))
    assert sure(checked.of("socket", LOWER)).state == "fouled"
    finding = checked.of("spanner", LOWER)
    if spanner is None:
        assert finding is None
    else:
        assert sure(finding).state == "fouled"
        assert sure(sure(finding).value) >= spanner
        assert (sure(sure(finding).value) == 0.0) == (spanner == 0.0)


def test_a_socket_too_long_for_the_well_is_a_note_as_well():
    """The front of the well is 40 mm away along the floor, the socket 65 mm long and the ring 13.9."""
    short = changed(turned_by(well__length=40.0, inside_blocks=()), **{SOCKET: roomy().mounts[0].lower_hardware.socket})
    checked = check(short)
    assert (sure(checked.of("socket_room", LOWER)).state, sure(checked.of("spanner", LOWER)).state) == ("note", "clear")
    assert sure(check(changed(short, **{f"{SPANNER}__length": None})).of("socket_room", LOWER)).state == "fouled"


def test_a_drag_keeps_no_finding_that_another_bolt_moved():
    """The upper bolts come down on the lower spanner's way: the same findings, dragged there or made from nothing."""
    before = turned_by(170.0)
    after = changed(before, mounts__0__drop=150.0)
    assert check(after, check(before)).of("spanner", LOWER) == finding_of(after)
    assert finding_of(after) != finding_of(before)
    note = replaced()
    narrow = changed(note, mounts__0__drop=150.0)
    assert check(narrow, check(note)).findings == check(narrow).findings


def test_both_sides_share_a_line_and_it_lights_the_swing_on_the_face():
    checked = check(turned_by())
    row = next(row for row in findings_rows(checked) if row.first.check == "spanner")
    assert row.title == "Room to turn both lower nuts"
    line = next(line for line in finding_lines(checked) if sure(line.first).check == "spanner")
    assert line.part == "lower port spanner:0"
    view = fit(work_rect(checked.design), 180.0, 180.0, 10.0)
    marks = [mark for mark in face_marks(checked, view, ViewFocus(0, line.part)) if mark.part == line.part]
    assert [type(mark) for mark in marks] == [Arc, Path, Path]
    bolt = next(bolt for bolt in bolts(checked.design) if bolt.name == "lower port")
    assert marks[0].centre == pytest.approx(view.to_paper((bolt.u, bolt.exit.v)))
    assert marks[0].end - marks[0].start == pytest.approx(sure(finding_of(checked.design)).value, abs=1e-6)
    assert not [mark for mark in face_marks(checked, view, ViewFocus(0)) if mark.part == line.part]
    assert cut_marks(checked, view, "port", 0, ViewFocus(0, line.part)), "the cut shows its bolt"


def test_an_inch_boat_says_box_end_wrench():
    assert "The box-end wrench on the lower starboard nut" in sure(finding_of(turned_by(units="in"))).text


def test_a_head_inside_is_turned_as_well():
    inside = turned_by(mounts__0__lower_hardware__inserted_from="inside")
    assert "on the lower starboard bolt head turns" in sure(finding_of(inside)).text


def test_its_sizes_are_on_the_measuring_sheet_only_where_it_turns_the_nuts():
    def names(design):
        return [item.name for item in items(design)]

    assert "Lower ring spanner’s handle" in names(turned_by())
    assert not [name for name in names(roomy(units="mm")) if "handle" in name]


def test_a_ring_spanner_is_a_cure_only_where_it_can_turn():
    """The well is 40 mm long, so a ring spanner cures the socket. Between two near knees it can't turn."""
    short = changed(roomy(units="mm"), well__length=40.0, mounts__0__lower_hardware__spanner=None)
    assert cure_of(short, "socket_room").button == "Use a ring spanner"
    assert cure_of(changed(short, inside_blocks=walled(25.0, 25.0)), "socket_room") is None


def test_a_socket_is_a_cure_where_a_ring_spanner_cannot_turn():
    blocked = turned_by(150.0, 20.0, inside_blocks=walled(25.0, 25.0))
    assert sure(cure_of(blocked, "spanner")).button == "Use a socket"


def cure_of(design, name):
    checked = check(design)
    return cure(checked, sure(checked.of(name, LOWER)))
