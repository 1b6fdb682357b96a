"""The pictures of the shop sheet: the face, the cut, and the column of the bracket's holes with the used one filled."""

from __future__ import annotations

from geometry.design.motor import Mount
from geometry.judge.findings import Checked
from geometry.solid.faces import Unmeasured
from geometry.units.height_words import hole_from_top, hole_words
from templates_out.drawing import sheet_pens as pens
from templates_out.drawing.clipping import clip
from templates_out.drawing.marks import Circle, Mark, Path, Point, Text
from templates_out.drawing.transforms import shift
from templates_out.isometric.isometric_marks import isometric_marks
from templates_out.layout.full_scale import crossed_out
from templates_out.layout.reading_pages import ROW, SUBHEAD, Sheet, Writing, Written
from templates_out.views.cut import Side, cut_marks, cut_rect, cut_title
from templates_out.views.face import face_marks
from templates_out.views.view_focus import ViewFocus
from templates_out.views.viewport import Rect, fit, work_rect

COLUMN_PITCH, COLUMN_MOST = 5.2, 40.0  # mm of paper from hole to hole in the column, and its height at the most
FACE_HIGH, CUT_LEAST = 62.0, 84.0  # mm: height of the face, and of the cut at least
SPACE_WIDE, SPACE_HIGH, IN_SPACE = 120.0, 56.0, "boat in space"  # mm: of that picture; the part of its name
SHARE = 0.54  # of the width that the face takes


def pictures(checked: Checked, sheet: Sheet, index: int, top: float, *, crossed: bool = False) -> Written:
    """Return face and the bracket's holes at left, the cut at right, each under its name.

    Args:
        crossed: whether nobody may drill by them: then a heavy X goes over both.
    """
    design = checked.design
    mount = design.mounts[index] if index < len(design.mounts) else None
    bolted = mount is not None and mount.bracket.rows is not None
    side = side_to_show(checked, index)
    middle = sheet.left + SHARE * sheet.room
    base = top - 0.9 * SUBHEAD
    marks: list[Mark] = [
        Text((sheet.left, base), "The face, seen from astern", SUBHEAD, bold=True, condensed=True),
        Text((middle + 4.0, base), cut_title(side, bolted=bolted), SUBHEAD, bold=True, condensed=True),
        Text((sheet.right, base), "seen from starboard", ROW, condensed=True, anchor="end"),
    ]
    head = top - 6.0
    foot = head - FACE_HIGH
    boxes = [(sheet.left, foot, middle, head)]
    marks += face_picture(checked, index, boxes[0])
    if mount is not None and bolted:
        page = Writing(tuple(marks), foot).then(sheet.heading, "The bracket’s upper holes, either side", SUBHEAD)
        marks = [*page.marks, *hole_column(mount, (sheet.left + 4.0, page.y))]
        foot = page.y - column_height(mount)
    foot = min(foot, head - CUT_LEAST)
    boxes.append((middle + 4.0, foot, sheet.right, head))
    marks += cut_picture(checked, side, index, boxes[1])
    if crossed:
        marks += [line for box in boxes for line in crossed_out(_middle(box), "picture")]
    return tuple(marks), foot


def boat_in_space(checked: Checked, sheet: Sheet) -> tuple[Mark, ...]:
    """Return well, brackets and bolts in space, from the corner (0, 0); () where a reading is lacking, or nothing is hung."""
    if not checked.design.mounts:
        return ()
    try:
        return isometric_marks(checked, SPACE_WIDE, SPACE_HIGH)
    except Unmeasured:
        return ()


def in_space(marks: tuple[Mark, ...], sheet: Sheet, y: float) -> Written:
    """Return the picture of the boat in space under its name."""
    name = Text((sheet.left, y - 2.0 - 0.9 * SUBHEAD), "In space", SUBHEAD, bold=True, condensed=True, part=IN_SPACE)
    foot = y - 2.0 - SPACE_HIGH
    return (name, *shift(marks, sheet.left + (sheet.room - SPACE_WIDE) / 2, foot)), foot


def _middle(box: Rect) -> Rect:
    """Return the middle of a picture, where a line over it strikes no word at its edges."""
    left, bottom, right, top = box
    across, up = 0.18 * (right - left), 0.18 * (top - bottom)
    return left + across, bottom + up, right - across, top - up


def face_picture(checked: Checked, mount: int, box: Rect) -> tuple[Mark, ...]:
    """Return the face within ``box`` (left, bottom, right, top) [paper mm]."""
    width, height = box[2] - box[0], box[3] - box[1]
    view = fit(work_rect(checked.design), width, height)
    marks = face_marks(checked, view, ViewFocus(mount=mount), "paper")
    return shift(clip(marks, (0.0, 0.0, width, height)), box[0], box[1])


def cut_picture(checked: Checked, side: Side, mount: int, box: Rect) -> tuple[Mark, ...]:
    """Return the cut within ``box`` [paper mm]."""
    width, height = box[2] - box[0], box[3] - box[1]
    view = fit(cut_rect(checked.design, side, mount), width, height)
    marks = cut_marks(checked, view, side, mount, ViewFocus(mount=mount), "paper")
    return shift(clip(marks, (0.0, 0.0, width, height)), box[0], box[1])


def side_to_show(checked: Checked, mount: int) -> Side:
    """Return the side whose bolts have the worst finding; starboard where both are alike."""
    name = checked.design.mounts[mount].name if mount < len(checked.design.mounts) else ""
    for finding in checked.findings:
        parts = finding.at.split(" / ")
        if finding.state in ("fouled", "tight") and parts[0] == name and len(parts) > 1:
            twin = parts[1].replace("port", "starboard")
            alike = checked.of(finding.check, " / ".join([name, twin, *parts[2:]]))
            if parts[1].endswith("port") and (alike is None or alike.value != finding.value):
                return "port"
            return "starboard"
    return "starboard"


def column_height(mount: Mount) -> float:
    """Return the height of the column of holes [paper mm]."""
    rows = mount.bracket.rows
    return 0.0 if rows is None else _pitch(rows.count) * rows.count + 4.0


def _pitch(count: int) -> float:
    return min(COLUMN_PITCH, COLUMN_MOST / count)


def hole_column(mount: Mount, at: Point) -> tuple[Mark, ...]:
    """Return the bracket's upper holes of one side under the corner ``at``, the used one filled."""
    rows = mount.bracket.rows
    if rows is None:
        return ()
    left, top = at
    height, pitch = column_height(mount), _pitch(rows.count)
    frame = ((left, top - height), (left + 9.0, top - height), (left + 9.0, top), (left, top))
    marks: list[Mark] = [Path(frame, True, pens.SEAM, None, "bracket holes")]
    for row in range(rows.count):
        y = top - 2.0 - pitch * (row + 0.5)
        used = row == mount.row
        marks.append(Circle((left + 4.5, y), min(1.9, 0.4 * pitch), pens.FINAL, "ink" if used else None, f"bracket hole {row}"))
        label = _label(row, rows.count, used)
        near = mount.row is not None and not used and abs(row - mount.row) * pitch < 4.0
        if label and not near:
            size = ROW if not used else SUBHEAD
            base = y - 0.37 * size
            marks.append(Text((left + 11.5, base), label, size, bold=used, condensed=True, part=f"bracket hole {row}"))
    return tuple(marks)


def _label(row: int, count: int, used: bool) -> str:
    if used:
        return f"the bolts go here: {hole_words(row)}"
    if row == 0:
        return f"{hole_from_top(row)}: motor lowest"
    return f"{hole_from_top(row)}: motor highest" if row == count - 1 else ""
