"""The survey of a boat: its points by name, and the places that it found, entered as readings with their spreads.

On the outer face points are (u, v) from centreline and outer top edge, on the inner face (u, y) from the inside top edge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.checking_readings import SurveyDistance, SurveyReadings
from geometry.design.validity import CLOSE, SECOND
from geometry.errors import OwnerError
from geometry.readings.drilled_readings import DRILLED, drilled_key
from geometry.readings.measure import at_path, put_path, reading_of
from geometry.readings.measures import measure, measures
from geometry.solid.faces import Unmeasured, exit_of, faces, profile_up
from geometry.survey.adjust import Survey, adjust
from geometry.survey.network import CENTRELINE, DATUM, TOP_EDGE, Distance, network
from geometry.units.units import format_length

if TYPE_CHECKING:
    from geometry.design.checking_readings import Face
    from geometry.design.design import Design, Reading
    from geometry.survey.adjust import Placed
    from geometry.survey.network import Point

FACES: tuple[Face, ...] = ("outside", "inside")
INSIDE = f"{SECOND}inside"
"""How the key ends of an old hole's depth on the inner face."""
DATUM_WORDS = "middle of the top edge"
_ABOVE = 10.0  # mm: a mark on the edge may come out so much above it
_ENDS = ("port end of the top edge", "starboard end of the top edge")


class SurveyPoint(msgspec.Struct, frozen=True):
    """A point of the boat that a survey can place: a corner, or the end of a hole on this face.

    Attributes:
        name: for a person. key: its place in the design. at: where the design has it, None where it is not known.
        on_edge: whether it is on the top edge, which is where it stays.
    """

    name: str
    key: str
    at: Point | None
    on_edge: bool = False

    @property
    def is_corner(self) -> bool:
        """Whether it is a corner of the outline or of the well."""
        return self.key.startswith(("transom.outline.", "well.profile."))


class Surveyed(msgspec.Struct, frozen=True):
    """The survey of one face: its distances by their number in the design, and what came of them."""

    face: Face
    numbers: tuple[int, ...]
    survey: Survey


def points_of(design: Design, face: Face) -> tuple[SurveyPoint, ...]:
    """Return the holes and corners of one face that a survey can place, each with a name that no other has.

    On the inner face they are the exits of holes: of old ones, and of the holes as they were drilled.
    """
    made: list[SurveyPoint] = []
    if face == "outside":
        made += [SurveyPoint(hole.name, f"old_holes.{i}.at", _known(hole.at)) for i, hole in enumerate(design.old_holes)]
        made += _drilled(design, face)
        ends = _top_ends(design)
        for i, corner in enumerate(design.transom.outline):
            name = _ENDS[ends.index(i)] if i in ends else f"transom corner {i + 1}"
            made.append(SurveyPoint(name, f"transom.outline.{i}", _known(corner), on_edge=i in ends))
    else:
        made += [SurveyPoint(f"{hole.name}, inside", f"old_holes.{i}{INSIDE}", _exit_of(design, i))
                 for i, hole in enumerate(design.old_holes)]  # fmt: skip
        made += _drilled(design, face)
        for i, corner in enumerate(design.well.profile if design.well is not None else ()):
            made.append(SurveyPoint(f"well corner {i + 1}", f"well.profile.{i}", _known(corner)))
    names = [point.name for point in made]
    return tuple(
        replace(point, name=f"{point.name} ({number + 1})") if names.count(point.name) > 1 else point
        for number, point in enumerate(made)
    )


def _drilled(design: Design, face: Face) -> list[SurveyPoint]:
    """Return the ends of the holes as drilled on one face, with the motor's name where there are several."""
    made = []
    for hole in design.as_drilled:
        whose = f"{design.mounts[hole.mount].name}, " if len(design.mounts) > 1 else ""
        end, at = ("outer", hole.outer) if face == "outside" else ("inner", hole.inner)
        inside = "" if face == "outside" else ", inside"
        made.append(SurveyPoint(f"{whose}{hole.hole} as drilled{inside}", drilled_key(hole.mount, hole.hole, end), _known(at)))
    return made


def _exit_of(design: Design, index: int) -> Point | None:
    """Return where an old hole should come out, from where the well is measured; None where that is not known."""
    at = _known(design.old_holes[index].at)
    if at is None:
        return None
    try:
        face = faces(design.transom)
        return at[0], exit_of(face, *at, 0.0).w - _edge_of(design)
    except Unmeasured:
        return None


def _edge_of(design: Design) -> float:
    """Return the height of the edge that inside distances count from: the inside top edge, or the outside one [mm]."""
    face = faces(design.transom)
    return face.edge_w if design.well is None else profile_up(face, design.well)


def ends_of(design: Design, face: Face) -> tuple[str, ...]:
    """Return what a distance may be measured to: the lines, the middle of the top edge, and every point."""
    own = (CENTRELINE, TOP_EDGE, DATUM_WORDS)
    return (*own, *(point.name for point in points_of(design, face)))


def surveyed(design: Design) -> tuple[Surveyed, ...]:
    """Return the survey of each face that has distances.

    Raises:
        OwnerError: a distance fixes nothing, such as one from a place to itself.
    """
    made = []
    for face in FACES:
        every = enumerate(design.survey.distances if design.survey is not None else ())
        chosen = tuple((number, each) for number, each in every if each.face == face)
        if chosen:
            numbers = tuple(number for number, _ in chosen)
            made.append(Surveyed(face, numbers, _adjusted(design, face, tuple(each for _, each in chosen))))
    return tuple(made)


def _adjusted(design: Design, face: Face, distances: tuple[SurveyDistance, ...]) -> Survey:
    usual = design.spreads.tape if face == "outside" else design.spreads.well
    read = tuple(
        Distance(_plain(each.from_), _plain(each.to), each.length, usual if each.spread is None else each.spread)
        for each in map(_from_a_point, distances)
    )
    sketch = {point.name: point.at for point in points_of(design, face) if point.at is not None}

    def may_be(name: str, at: Point) -> bool:
        return name in sketch or _is_own_place(name, at)

    return adjust(network({DATUM: (0.0, 0.0)}, read), sketch, may_be)


def _is_own_place(name: str, at: Point) -> bool:
    """Return whether a mark of the owner's may be there: below the top edge, and on the side that its name says."""
    port, starboard = "port" in name.lower(), "starboard" in name.lower()
    other_side = (port and not starboard and at[0] > 0.0) or (starboard and at[0] < 0.0)
    return at[1] <= _ABOVE and not other_side


def _from_a_point(each: SurveyDistance) -> SurveyDistance:
    """Return a distance the other way round where it was typed from a line, or from the middle of the top edge."""
    if each.from_ in (CENTRELINE, TOP_EDGE, DATUM_WORDS):
        return replace(each, from_=each.to, to=each.from_)
    return each


def _plain(name: str) -> str:
    return DATUM if name == DATUM_WORDS else name


def taken_over(design: Design) -> Design:
    """Return ``design`` with the places that its survey found, each a reading with its spread.

    A point on the top edge stays on it. A shape counts as measured once every corner of it is placed.

    Raises:
        OwnerError: a face's distances do not agree or do not fix every point, or its places are impossible.
    """
    done = design
    for each in surveyed(design):
        if not each.survey.agrees:
            raise OwnerError("The survey does not agree yet. Nothing was entered. Look at its sentences first.")
        places = {placed.name: placed for placed in each.survey.placed}
        own = {point: places[point.name] for point in points_of(design, each.face) if point.name in places}
        done = _with_places(done, {
            point.key: (placed.at[0], 0.0 if point.on_edge else placed.at[1]) for point, placed in own.items()
        })  # fmt: skip
        done = replace(done, readings={**done.readings, **_readings(done, own)})
    return done


def _with_places(design: Design, places: dict[str, Point]) -> Design:
    """Return ``design`` with holes and corners elsewhere; all corners of a shape move at once."""
    for key, at in places.items():
        if key.endswith(INSIDE):
            design = _with_exit(design, key, at)
        elif key.startswith("old_holes"):
            design = put_path(design, key, at)
        elif DRILLED in key:
            design = _with_end(design, key, at)
    for shape in ("transom.outline", "well.profile"):
        if any(key.startswith(shape) for key in places):
            corners = tuple(places.get(f"{shape}.{i}", corner) for i, corner in enumerate(at_path(design, shape)))
            design = put_path(design, shape, corners)
    return design


def _with_exit(design: Design, key: str, at: Point) -> Design:
    """Return ``design`` with how far down an old hole comes out: it is read from the inside top edge.

    Its place across is that on the outer face, as old holes are square to it.
    """
    row = measure(design, key)
    down = faces(design.transom).edge_w - _edge_of(design) - at[1]
    return design if row is None else row.set(design, down)


def _with_end(design: Design, key: str, at: Point) -> Design:
    """Return ``design`` with one end of a hole as drilled elsewhere."""
    _, number, _, hole, end = key.split(".")
    changed = tuple(
        replace(each, **{end: at}) if (each.mount, each.hole) == (int(number), hole.replace("_", " ")) else each
        for each in design.as_drilled
    )
    return replace(design, as_drilled=changed)


def _readings(design: Design, own: dict[SurveyPoint, Placed]) -> dict[str, Reading]:
    """Return the readings that placed points give: of each hole and corner, and of widths and depths between corners."""
    spreads: dict[str, float] = {}
    corners = {point.key: placed for point, placed in own.items()}
    for key, placed in corners.items():
        if key.endswith(INSIDE):
            spreads[key] = placed.up
        elif key.startswith("old_holes"):
            hole = key.removesuffix(".at")
            spreads |= {f"{hole}.across": placed.across, f"{hole}.down": placed.up}
        else:
            spreads |= {f"{key}.0": placed.across, f"{key}.1": placed.up}
    sides = [corners.get(f"well.profile.{i}") for i in range(4)]
    if design.well is not None and len(design.well.profile) == len(sides):
        for key, left, right in (("well.top_width", sides[0], sides[3]), ("well.floor_width", sides[1], sides[2])):
            if left is not None and right is not None:
                spreads[key] = (left.across**2 + right.across**2) ** 0.5
        if sides[1] is not None and sides[2] is not None:
            spreads |= {"well.floor_port": sides[1].up, "well.floor_starboard": sides[2].up}
    made = {}
    for row in measures(design):
        if row.key in spreads:
            value = row.get(design)
            text = "" if value is None else format_length(value, design.units, denominator=64)
            made[row.key] = replace(reading_of(design, row, text, value, "measured"), how="tape", spread=spreads[row.key])
        elif row.key in ("transom.outline", "well.profile") and _whole(design, row.key, corners):
            made[row.key] = reading_of(design, row, "", None, "measured")
    return made


def _whole(design: Design, key: str, corners: dict[str, Placed]) -> bool:
    shape = design.transom.outline if key == "transom.outline" else design.well.profile if design.well is not None else ()
    return bool(shape) and all(f"{key}.{i}" in corners for i in range(len(shape)))


def _known(at: tuple[float | None, float | None]) -> Point | None:
    return None if at[0] is None or at[1] is None else (at[0], at[1])


def _top_ends(design: Design) -> tuple[int, ...]:
    """Return the corners where the level top edge across the centreline ends, port first; () where it is not level."""
    outline = design.transom.outline
    for i in range(len(outline)):
        a, b = (_known(outline[k]) for k in (i - 1, i))
        level = a is not None and b is not None and abs(a[1]) <= CLOSE and abs(b[1]) <= CLOSE
        if a is not None and b is not None and level and a[0] * b[0] < 0.0:
            pair = ((i - 1) % len(outline), i)
            return pair if a[0] < b[0] else pair[::-1]
    return ()


def with_distances(design: Design, distances: tuple[SurveyDistance, ...]) -> Design:
    """Return ``design`` with other distances; none: without a survey."""
    return replace(design, survey=SurveyReadings(distances=distances) if distances else None)
