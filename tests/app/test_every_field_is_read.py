"""Every field of the design is read: changing it changes a finding, a drawing of the boat, or a mark of a sheet.

The card and the measuring sheet do not count, nor do the shop sheet's guesses and gaps: they repeat values. A design's
printed number does not count either, nor does how far a name before it is shortened: that is by the number's width. `WAITING`
has the fields that wait for a later issue.
"""

from __future__ import annotations

import re
from functools import cache, partial
from typing import TYPE_CHECKING, Any

import pytest
from msgspec import inspect
from msgspec.structs import replace

import assets
from app.entries.card_items import items
from app.entries.entry_text import Line
from app.help.manual_pages import manual
from app.printing.sheet_kinds import SHEET_KINDS
from app.ui.apostrophes import curly
from geometry.asking.next_question import Asked, next_question
from geometry.asking.question_order import OLD_HOLES
from geometry.design.boat import Fitting
from geometry.design.checking_readings import SurveyDistance, SurveyReadings, TapedReading, TapedReadings
from geometry.design.design import Design, Reading
from geometry.design.hardware import HexSizes, Spacer
from geometry.design.motor import Tilt, TiltPoint
from geometry.design.patterns import backing_plate
from geometry.design_text import fingerprint, from_text
from geometry.doubt.spreads import with_spreads
from geometry.errors import OwnerError
from geometry.judge.check import check
from geometry.readings.measures import SECTIONS, at_path, measures, put_path
from geometry.readings.pilots import with_pilot
from geometry.tables.fasteners import bolt_names
from geometry.tables.grades import grade_names
from geometry.tables.materials import core_names
from templates_out.drawing.marks import Text
from templates_out.layout.taped_table import paper_without_joins
from templates_out.pages.shop import shop_pages
from templates_out.pages.view_pages import view_pages
from tests.designs import changed, clamp_on_mount, example_design
from tests.geometry.test_as_drilled import drilled
from tests.templates_out.printed import on

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from geometry.judge.findings import Checked
    from templates_out.drawing.marks import Page

WAITING = {  # fields that nothing reads yet, each with the issue that brings its reader
    "second": 14, "photo": 18,
}  # fmt: skip
BY_THEMSELVES = {  # fields that a test below takes by themselves: the reader of files and the manual read the first two
    "boltwell", "notes", "mounts.*.bracket.kind", "look_for_holes",
}  # fmt: skip
NAMES = {
    "bolt": bolt_names(), "grade": grade_names(), "core": core_names(), "nut": ("hex nut", "ASME B18.2.2 hex"),
    "material": ("316 stainless",),
}  # fmt: skip
_SHORTENED = re.compile("^.*…(?=  ·  design )")
SLOW = 3  # places of a field that are tried where the findings do not change
MOST = 40  # and where they are compared
JUDGED = {"pulled in reverse", "thin washers", "large twins", "stronger"}  # boats for the findings alone


@cache
def boats() -> dict[str, Design]:
    """Return boats that have every field between them."""
    example = replace(example_design(), revision=3, notes="A note.")
    runabout = demonstration("thrice-drilled-runabout")
    full = changed(
        example, boat__length=4500.0, boat__beam=1900.0, boat__transom_width=1500.0, boat__hull_mass=300.0,
        boat__displacement=1400.0, boat__remote_steering=True, boat__plate__power_kw=30.0, boat__plate__motor_mass=110.0,
        boat__plate__persons_mass=300.0, boat__plate__total_mass=420.0, boat__old_motor__mass=80.0,
        boat__old_motor__power_kw=25.0, boat__old_motor__centre_aft=280.0, transom__core_bears=9.0,
        mounts__0__centre_aft=300.0, mounts__0__thrust=2500.0, mounts__0__cowl_half_width=200.0,
        mounts__0__bracket__room_aft__upper=120.0, mounts__0__bracket__room_aft__lower=120.0,
    )  # fmt: skip
    own = changed(runabout, **{
        f"mounts__0__{pair}_hardware__{field}": value for pair in ("upper", "lower")
        for field, value in {
            "nut_sizes": HexSizes(flats=19.0, corners=21.9, height=12.0),
            "head_sizes": HexSizes(flats=19.0, corners=21.9, height=8.0),
            "spacer": Spacer(outer=36.0, inner=13.5, length=6.0), "running_torque": 10.0, "length": 110.0,
        }.items()
    })  # fmt: skip
    cut = changed(
        example, mounts__0__lower_hardware__washer__flat_cut=15.0, mounts__0__upper_hardware__washer__flat_cut=15.0,
    )  # fmt: skip
    spanner = changed(example, **{
        f"mounts__0__{pair}_hardware__{field}": value for pair in ("upper", "lower")
        for field, value in {"socket": None, "spanner__length": 150.0, "spanner__handle": 15.0}.items()
    })  # fmt: skip
    inside = changed(own, mounts__0__upper_hardware__inserted_from="inside", mounts__0__lower_hardware__inserted_from="inside")
    alone = changed(full, boat__plate__power_kw=None, boat__plate__motor_mass=None, boat__plate__persons_mass=None,
                    boat__plate__total_mass=None)  # fmt: skip
    flat = changed(alone, boat__length=3500.0, boat__flat_bottom_hard_chines=True, boat__remote_steering=False)
    points = tuple(TiltPoint(radius=radius, angle=angle, half_width=150.0) for radius, angle in ((420.0, 10.0), (300.0, -30.0)))
    tilted = changed(
        example, mounts__0__tilt=Tilt(tube=(60.0, 40.0), most=65.0, lock=35.0, points=points), well__front_height=20.0,
    )  # fmt: skip
    at_port = SurveyDistance(face="outside", from_="mark at port", to="centreline", length=120.0, spread=None)
    down = replace(at_port, to="top edge", length=260.0, spread=1.0)
    third = replace(at_port, to="middle of the top edge", length=286.0)
    inside_too = tuple(replace(each, face="inside") for each in (at_port, down, third))
    row = paper_without_joins(example).rows[0]
    read = TapedReadings(number=fingerprint(example), readings=(TapedReading(row=row.name, read=row.expected),))
    checked_at_boat = replace(example, survey=SurveyReadings(distances=(at_port, down, third, *inside_too)), taped=read)
    clamped = replace(example, mounts=(clamp_on_mount(),))
    under = Fitting(name="tow eye", outline=((100.0, -75.0), (140.0, -75.0), (140.0, -35.0), (100.0, -35.0)),
                    stands_out=40.0, drill=None)  # fmt: skip
    over_a_fitting = replace(example, outside_fittings=(under,))
    twin = changed(demonstration("twin-motor-launch"), outside_fittings=(), inside_blocks=(), old_holes=())
    piloted = with_pilot(twin, 1, "lower starboard", value=1.5)
    drilled_too = replace(twin, as_drilled=drilled(twin, lower_port=(1.0, -3.0)).as_drilled[:1])
    plated = changed(example, **{
        f"mounts__0__{pair}_hardware__backing_plate": backing_plate(example.mounts[0].bracket, pair, 38.1, along=4.0)
        for pair in ("upper", "lower")
    })  # fmt: skip
    reverse = changed(example, mounts__0__lower_hardware__torque=12.0)  # in reverse, its lower bolts hold least
    thin = changed(example, **{  # washers that bend
        f"mounts__0__{pair}_hardware__washer__thickness": 1.0 for pair in ("upper", "lower")
    })  # fmt: skip
    large = changed(twin, mounts__0__power_kw=120.0, mounts__1__power_kw=120.0)
    stronger = changed(full, boat__old_motor__power_kw=15.0)
    return {
        "example": example, "full": full, "own sizes": own, "cut washers": cut, "spanner": spanner, "from inside": inside,
        "no plate": alone, "flat bottom": flat, "clamped": clamped, "plated": plated, "tilted": tilted,
        "checked at the boat": checked_at_boat, "over a fitting": over_a_fitting,
        "piloted": piloted,
        "drilled": drilled_too,
        "pulled in reverse": reverse, "thin washers": thin, "large twins": large, "stronger": stronger,
        **{name: demonstration(name) for name in assets.design_names()},
    }  # fmt: skip


def demonstration(name: str) -> Design:
    return replace(from_text(assets.design_text(name)), demonstration=False)


def leaves(kind: inspect.Type, value: Any, path: str = "", pattern: str = "") -> Iterator[tuple[str, str, inspect.Type]]:
    """Yield each single value of a design: its field with "*" for any of several, its place, and its type."""
    kinds = kind.types if isinstance(kind, inspect.UnionType) else (kind,)
    for inner in kinds:
        if isinstance(inner, inspect.StructType) and isinstance(value, inner.cls):
            for field in inner.fields:
                yield from leaves(field.type, getattr(value, field.name), joined(path, field.name), joined(pattern, field.name))
            return
        if isinstance(inner, inspect.VarTupleType) and value:
            for index, each in enumerate(value):
                yield from leaves(inner.item_type, each, joined(path, str(index)), joined(pattern, "*"))
            return
        if isinstance(inner, inspect.TupleType) and value is not None:
            for index, each in enumerate(value):
                yield from leaves(inner.item_types[index], each, joined(path, str(index)), joined(pattern, str(index)))
            return
    yield pattern, path, kind


def joined(path: str, step: str) -> str:
    return f"{path}.{step}" if path else step


@cache
def places() -> dict[str, list[tuple[str, str, inspect.Type]]]:
    """Return the boats, places and types of each field. An empty list of parts is left out where another boat has parts."""
    listed: dict[str, list[tuple[str, str, inspect.Type]]] = {}
    for name, boat in boats().items():
        for pattern, path, kind in leaves(inspect.type_info(Design), boat):
            listed.setdefault(pattern, []).append((name, path, kind))
    whole = {pattern for pattern in listed for other in listed if other.startswith(f"{pattern}.")}
    return {pattern: where for pattern, where in listed.items() if pattern not in whole | {"readings", "sure_of"}}


def others(path: str, kind: inspect.Type, value: Any) -> Iterator[Any]:
    """Yield other values of a field."""
    for inner in kind.types if isinstance(kind, inspect.UnionType) else (kind,):
        match inner:
            case inspect.BoolType():
                yield not value
            case inspect.LiteralType():
                yield from (word for word in inner.values if word != value)
            case inspect.StrType():
                yield from (name for name in NAMES.get(path.rsplit(".", 1)[-1], (f"{value} too",)) if name != value)
            case inspect.IntType():
                yield from (1,) if value is None else (value + 1, value - 1)
            case inspect.FloatType() if isinstance(value, int | float):
                yield from (value * 1.1, value * 0.9, value + 0.2, value - 0.2)
                yield from (value * 1.8, value / 2 - 5, value + 60, value - 60)
            case inspect.FloatType():
                yield from (1.0, 10.0, 100.0, 1000.0)


def tried(pattern: str) -> Iterator[tuple[str, Design]]:
    """Yield boats with a change of one field, each with the name of the boat before."""
    for name, path, kind in places()[pattern]:
        before = boats()[name]
        for value in others(path, kind, at_path(before, path)):
            try:
                yield name, put_path(before, path, value)
            except OwnerError:
                continue


def findings(design: Design) -> object:
    return check(design).findings


def findings_with_chances(design: Design) -> object:
    return with_spreads(check(design)).findings


def drawn(make: Callable[[Checked], Iterable[Page]], design: Design) -> object:
    """Return the marks of a sheet or of both views, without the design's number; the refusal where there are none."""
    number = fingerprint(design)
    try:
        return [without(number, mark) for page in make(check(design)) for mark in page.marks]
    except OwnerError as sentence:
        return str(sentence)


def sheet(key: str, checked: Checked) -> Iterable[Page]:
    kind = SHEET_KINDS[key]
    return kind.pages(checked, on()) if kind.there(checked.design) else ()


QUICK = ("planning", "coupons", "gauge", "record", "plate", "bars")  # sheets that take a moment
SHOP = partial(drawn, partial(sheet, "shop"))
LOOKS: tuple[Callable[[Design], object], ...] = (  # the quick ones first: the first that sees a change is enough
    partial(drawn, view_pages), *(partial(drawn, partial(sheet, key)) for key in QUICK), findings_with_chances, SHOP,
    *(partial(drawn, partial(sheet, key)) for key in SHEET_KINDS if key not in (*QUICK, "shop", "measuring")),
)  # fmt: skip


def without(number: str, mark: Any) -> Any:
    """Return a mark without the design's number, and without a shortened name before it, whose length is by the number."""
    return replace(mark, text=_SHORTENED.sub("", mark.text.replace(number, ""))) if isinstance(mark, Text) else mark


def is_read(pattern: str, look: Callable[[Design], object], most: int) -> bool:
    """Return whether changing a field changes what ``look`` sees on one of the boats that have it."""
    pairs = [(name, after) for name, after in tried(pattern) if look is findings or name not in JUDGED]
    step = max(1, len(pairs) // most)
    return any(look(after) != before_a_change(look, name) for name, after in pairs[::step])


@cache
def before_a_change(look: Callable[[Design], object], name: str) -> object:
    return look(boats()[name])


def card(design: Design) -> object:
    return [item for number in range(1, len(SECTIONS) + 1) for item in items(design, 0, number) if isinstance(item, Line)]


@pytest.mark.parametrize("pattern", sorted(set(places()) - set(WAITING) - BY_THEMSELVES))
def test_a_field_is_read(pattern: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shop_pages, "unsure", lambda _design: "")
    read = is_read(pattern, findings, MOST) or any(is_read(pattern, look, SLOW) for look in LOOKS)
    assert read, f"{pattern} is read by nothing"


def test_no_field_waits_that_is_not_there_any_more() -> None:
    assert set(WAITING) | BY_THEMSELVES <= set(places()) | set(Reading.__struct_fields__)


def test_the_brackets_kind_is_read() -> None:
    """It changes with all that the other kind has."""
    assert before_a_change(findings, "clamped") != before_a_change(findings, "example")
    kinds = {boats()[name].mounts[0].bracket.kind for name in ("clamped", "example")}
    assert kinds == {"bolted", "clamp-on"}


def test_whether_to_look_for_holes_is_read() -> None:
    """By the question of old holes. Each reading is passed by here, so that this question comes next."""
    boat = replace(example_design(), old_holes=(), inside_blocks=())
    passed = Asked(passed=tuple(measure.key for measure in measures(boat)))
    asked = [next_question(check(replace(boat, look_for_holes=look)), passed).key for look in (True, False)]
    assert asked[0] == OLD_HOLES
    assert asked[1] != OLD_HOLES


def test_the_notes_of_the_demonstration_boats_are_in_the_manual() -> None:
    said = " ".join(page.text for page in manual())
    assert all(curly(demonstration(name).notes) in said for name in assets.design_names())


RAKE = "transom.rake"


def read_as(**values: Any) -> Design:
    """Return the example with a reading of its rake and of its floor at port."""
    usual = Reading(text="14", value=14.0, from_="centre", how="level", state="measured", spread=None, second=None)
    floor = replace(usual, text="9 1/2", value=241.3, how="tape")
    edge = {key: value for key, value in values.items() if key == "from_"}
    readings = {RAKE: replace(usual, **values), "old_holes.0.down": replace(floor, **edge)}
    return replace(example_design(), readings=readings)


@pytest.mark.parametrize(
    ("field", "value", "look"),
    [("text", "14.0", card), ("state", "guess", findings_with_chances), ("spread", 3.0, findings_with_chances),
     ("how", "photo", card), ("from_", "near edge", card)],
)
def test_a_field_of_a_reading_is_read(field: str, value: object, look: Callable[[Design], object]) -> None:
    """The card says how a reading was taken and to what."""
    assert look(read_as(**{field: value})) != look(read_as())


def test_every_field_of_a_reading_is_tried_or_waits() -> None:
    tried_fields = {"text", "state", "spread", "how", "from_", "value"}
    assert set(Reading.__struct_fields__) == tried_fields | {"second"}
    assert "second" in WAITING


def test_the_value_of_a_reading_says_the_floor_where_the_other_side_is_not_known() -> None:
    """The floor's line needs both sides. Until then a depth is kept by its reading alone."""
    profile = ((-320.0, 0.0), (-300.0, None), (300.0, None), (320.0, 0.0))
    kept = Reading(text="", value=236.0, from_="centre", how="tape", state="measured", spread=None, second=None)
    low, high = (
        replace(changed(example_design(), well__profile=profile), readings={"well.floor_port": replace(kept, value=value)})
        for value in (236.0, 240.0)
    )
    assert card(low) != card(high)


def test_a_confirmed_reading_is_read() -> None:
    """A rake of 25 degrees is unlikely, and waits on the card until it is confirmed."""
    steep = changed(read_as(text="25", value=25.0), transom__rake=25.0)
    sure_of_it = replace(steep, sure_of={RAKE: (25.0,)})
    assert card(sure_of_it) != card(steep)
