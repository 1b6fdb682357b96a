"""Designs to test with: the worked example, changes to it, and random ones in great variety."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, TypeVar

from hypothesis import strategies as st
from msgspec.structs import replace

from geometry.design.boat import Afloat, Block, Boat, Fitting, OldHole, OldMotor, Plate, Thickness, Transom, Well
from geometry.design.design import Assumptions, Design, Limits, Spreads
from geometry.design.file_editions import NEWEST
from geometry.design.hardware import BOLT_NAMES, BackingPlate, Hardware, HexSizes, Socket, Spacer, Spanner, Washer
from geometry.design.motor import NO_TILT, Bracket, ClampScrews, Lower, Mount, RoomAft, Rows
from geometry.edits.starting_shapes import guess
from geometry.readings.measures import at_path, measures, put_path
from geometry.tables.fasteners import bolt, nut_names

if TYPE_CHECKING:
    from random import Random

IN = 25.4
T = TypeVar("T")
SWAPPED = {"upper port": "upper starboard", "lower port": "lower starboard"}
SWAPPED |= {there: here for here, there in SWAPPED.items()}


def sure(value: T | None) -> T:
    """Return what is there; a None that turns up fails the test."""
    assert value is not None
    return value


def changed(design: Design, **values: Any) -> Design:
    """Return ``design`` with values at dotted paths, dots written as two underscores: mounts__0__drop=184.15."""
    for path, value in values.items():
        design = put_path(design, path.replace("__", "."), value)
    return design


def all_guesses(design: Design) -> Design:
    """Return ``design`` with all that is measured counted as a guess, so that a hand can move it."""
    return guess(design, measures(design))


def all_measured(design: Design) -> Design:
    """Return ``design`` with every reading counted as measured."""
    readings = {key: replace(reading, state="measured") for key, reading in design.readings.items()}
    return replace(design, readings=readings)


def half_inch_hardware(**values: Any) -> Hardware:
    """Return the worked example's hardware: 1/2-13 through 13.5 mm holes, whole 38.1 mm washers inside."""
    bare = Hardware(
        bolt="1/2-13", grade="A4-70", length=None, hole=13.5, inserted_from="outside",
        outside_washer=Washer(outer=34.9, inner=14.3, thickness=2.8, flat_cut=None),
        washer=Washer(outer=38.1, inner=13.5, thickness=3.0, flat_cut=None),
        nut="ASME B18.16.6 NE", nut_sizes=None, head_sizes=None, backing_plate=None, spacer=None, wedge=0.0,
        socket=Socket(outer=26.0, length=65.0),
        spanner=Spanner(outer=28.6, thickness=13.9, swing=30.0, length=None, handle=None),
        torque=47.5, friction=(0.14, 0.18), running_torque=None,
    )  # fmt: skip
    return replace(bare, **values)


def four_bolt_bracket() -> Bracket:
    """Return a bracket with the trade's four-bolt pattern (common practice, no source)."""
    return Bracket(
        kind="bolted",
        rows=Rows(half_spacing=163.5125, row0_depth=50.8, pitch=19.05, count=5, diameter=13.5, pad_thickness=12.0),
        lower=Lower(half_spacing=125.4125, slots=((203.2, 279.4),), diameter=13.5, pad_thickness=12.0),
        outline=((-190, 0), (190, 0), (190, -120), (150, -350), (-150, -350), (-190, -120)),
        jaw=None, clamp_screws=None, room_aft=RoomAft(upper=None, lower=None),
    )  # fmt: skip


def example_design() -> Design:
    """Return the worked example: a shallow well, its lower pair raised by two pitches, everything just about right."""
    mount = Mount(
        name="main motor", bracket=four_bolt_bracket(), leg=508.0, mass=98.0, power_kw=29.8, set_back=0.0, centre_aft=None,
        thrust=None, shock=3.0, cowl_half_width=None, tilt=NO_TILT, row=2, upper_at=-50.8, drop=165.1, offset=0.0,
        upper_tilt=0.0, lower_tilt=0.0, upper_hardware=half_inch_hardware(), lower_hardware=half_inch_hardware(),
    )  # fmt: skip
    return Design(
        boltwell=NEWEST, name="example", units="in", notes="", revision=1, demonstration=False,
        boat=Boat(
            kind="monohull", length=None, beam=None, transom_width=None, hull_mass=None, displacement=None,
            flat_bottom_hard_chines=False, remote_steering=None, old_motor=OldMotor(mass=None, power_kw=None, centre_aft=None),
            afloat=Afloat(top_edge=None, scupper=None, drain=None),
            plate=Plate(power_kw=None, motor_mass=None, persons_mass=None, total_mass=None),
        ),
        transom=Transom(
            outline=((-700, 60), (-330, 60), (-330, 0), (330, 0), (330, 60), (700, 60), (620, -420), (0, -520), (-620, -420)),
            rake=14.0, top_cut="level", deadrise=12.0, height=490.0,
            thickness=Thickness(top=44.0, low=44.0, low_at=-250.0),
            skin_outside=4.0, skin_inside=4.0, core="fir plywood", core_state="unknown", core_bears=None,
        ),
        well=Well(
            well_from="inside top edge", profile=((-320, 0), (-300, -236.03), (300, -236.03), (320, 0)),
            floor_rise=3.0, fillet_radius=12.0, length=420.0, front_lean=0.0, front_height=None,
        ),
        inside_blocks=(
            Block(name="drain tube", outline=((-20, -236.03), (20, -236.03), (20, -204), (-20, -204)), stands_out=30.0),
        ),
        outside_fittings=(
            Fitting(name="tow eye", outline=((300, -300), (340, -300), (340, -260), (300, -260)), stands_out=40.0, drill=None),
        ),
        old_holes=(
            OldHole(name="old lower starboard", at=(125.4, -254.0), diameter=12.7, state="plugged", plug_diameter=25.4,
                    reuse=False, drill=None),
        ),
        mounts=(mount,),
        limits=Limits(clearance=(0.0, 2.0), edge_diameters=(1.5, 4.0), wood_between_diameters=(0.5, 1.0),
                      seat_angle=(2.86, 1.0), slot_end=(0.0, 0.8), top_edge=(44.45, 50.8), socket_room=(0.0, 25.4),
                      feed=(0.0, 12.7), outer_washer=(1.5, 1.85), motors=(0.0, 25.0), tilt_room=(0.0, 25.0),
                      lock_room=(0.0, 25.0), plug_wall=(0.0, 6.35), washer_stiff=(0.4, 0.6), clamp=(1.0, 0.75),
                      pressure=(1.67, 1.0), joint=(1.0, 0.75)),
        spreads=Spreads(tape=0.8, well=1.5, rake=0.5, print=0.3, mark=0.5, drill_angle=1.0, washer=0.75, freehand=1.143,
                        punched=0.762, block=0.381, jig=0.127),
        assumptions=Assumptions(
            thrust_share=0.55, reverse_share=0.4, settling=0.3, drag_share=0.5, shaft_depth=152.4, centre_aft=304.8,
            reverse_edge=12.7, epoxy=55.0, spread_angle=45.0, nut_bearing=0.96, washer_spread=5.0, wide_swing=60.0,
            motor_centres=660.4, large_centres=723.9,
        ),
        readings={}, sure_of={}, look_for_holes=False, survey=None, photo=None, pilots=(), taped=None, as_drilled=(),
    )  # fmt: skip


def roomy(**values: Any) -> Design:
    """Return the worked example with its floor an inch lower and no drain tube: all is sure, and it may be drilled."""
    design = example_design()
    lower = tuple((u, y if y == 0 else (y or 0.0) - IN) for u, y in sure(design.well).profile)
    return changed(changed(design, well__profile=lower, inside_blocks=()), **values)


def with_some_room(**values: Any) -> Design:
    """Return the worked example with its floor 8 mm lower and no drain tube: it may be drilled, with a little to spare."""
    design = example_design()
    lower = tuple((u, y if y == 0 else (y or 0.0) - 8.0) for u, y in sure(design.well).profile)
    return changed(changed(design, well__profile=lower, inside_blocks=()), **values)


def clamp_on_mount(**values: Any) -> Mount:
    """Return a small motor that clamps on: no bolts."""
    bracket = Bracket(
        kind="clamp-on", rows=None, lower=None, outline=((-130, 0), (130, 0), (130, -260), (-130, -260)),
        jaw=(30.0, 60.0), clamp_screws=ClampScrews(half_spacing=101.6, depth=60.0, pads=(6.0, 6.0)), room_aft=None,
    )  # fmt: skip
    bare = Mount(
        name="small motor", bracket=bracket, leg=381.0, mass=20.0, power_kw=2.2, set_back=0.0, centre_aft=None, thrust=None,
        shock=3.0, cowl_half_width=None, tilt=NO_TILT, row=None, upper_at=None, drop=None, offset=0.0,
        upper_tilt=None, lower_tilt=None, upper_hardware=None, lower_hardware=None,
    )  # fmt: skip
    return replace(bare, **values)


def twin_design() -> Design:
    """Return the worked example's boat with two of its motors, 700 mm apart, in a wider well."""
    design = example_design()
    well = replace(sure(design.well), profile=((-580, 0), (-560, -236.03), (560, -236.03), (580, 0)))
    wide = ((-900, 0), (900, 0), (860, -420), (0, -600), (-860, -420))
    motor = design.mounts[0]
    pair = (replace(motor, name="port motor", offset=-350.0), replace(motor, name="starboard motor", offset=350.0))
    transom = replace(design.transom, outline=wide)
    return replace(design, transom=transom, well=well, mounts=pair, inside_blocks=(), outside_fittings=(), old_holes=())


def mirrored(design: Design) -> Design:
    """Return ``design`` with port and starboard exchanged."""

    def ring(points: Any) -> tuple[Any, ...]:
        return tuple((-u, y) for u, y in reversed(points))

    def hardware(bolt_hardware: Hardware | None) -> Hardware | None:
        if bolt_hardware is None or bolt_hardware.backing_plate is None:
            return bolt_hardware
        plate = bolt_hardware.backing_plate
        joins = tuple(SWAPPED[name] for name in plate.joins)
        return replace(bolt_hardware, backing_plate=replace(plate, outline=ring(plate.outline), joins=joins))

    mounts = tuple(
        replace(
            mount, offset=-mount.offset, bracket=replace(mount.bracket, outline=ring(mount.bracket.outline)),
            upper_hardware=hardware(mount.upper_hardware), lower_hardware=hardware(mount.lower_hardware),
        )
        for mount in design.mounts
    )  # fmt: skip
    return replace(
        design,
        transom=replace(design.transom, outline=ring(design.transom.outline)),
        well=None if design.well is None else replace(design.well, profile=ring(design.well.profile)),
        inside_blocks=tuple(replace(block, outline=ring(block.outline)) for block in design.inside_blocks),
        outside_fittings=tuple(replace(fitting, outline=ring(fitting.outline)) for fitting in design.outside_fittings),
        old_holes=tuple(replace(hole, at=(-hole.at[0], hole.at[1])) for hole in design.old_holes),
        mounts=mounts,
    )


def random_profile(rng: Random | _Measured, depth: float) -> tuple[tuple[float, float], ...]:
    """Return a well's profile about ``depth`` deep (positive): one of eight kinds, narrow ones among them."""
    half = rng.choice((rng.uniform(148, 175), rng.uniform(175, 400)))
    flare = rng.uniform(0, 30)
    port, starboard = -half - rng.uniform(0, 20), half + rng.uniform(0, 20)
    ends = (port - flare, 0.0), (starboard + flare, 0.0)
    kind = rng.choice(("flat", "tilted", "step", "notch", "v", "hump", "crowned", "ditch"))
    floor = -depth
    inner: tuple[tuple[float, float], ...]
    if kind == "tilted":
        inner = (port, floor + rng.uniform(-25, 25)), (starboard, floor + rng.uniform(-25, 25))
    elif kind == "step":
        u, up = rng.uniform(-110, 110), rng.uniform(10, 60) * rng.choice((-1, 1))
        inner = (port, floor), (u, floor), (u + rng.uniform(0, 20), floor + up), (starboard, floor + up)
    elif kind == "notch":
        left, right, down = rng.uniform(-110, -40), rng.uniform(40, 110), rng.uniform(15, 60)
        bottom = (left + 5, floor - down), (right - 5, floor - down)
        inner = (port, floor), (left, floor), *bottom, (right, floor), (starboard, floor)
    elif kind == "v":
        inner = (port, floor), (rng.uniform(-60, 60), floor - rng.uniform(5, 60)), (starboard, floor)
    elif kind == "hump":
        left, right, up = rng.uniform(-100, -40), rng.uniform(40, 100), rng.uniform(15, 60)
        top = (left + 10, floor + up), (right - 10, floor + up)
        inner = (port, floor), (left, floor), *top, (right, floor), (starboard, floor)
    elif kind == "crowned":
        inner = (port, floor), (rng.uniform(-130, 130), floor + rng.uniform(5, 40)), (starboard, floor)
    elif kind == "ditch":
        inner = (port, floor), (-half / 2, floor - 40), (half / 2, floor - 40), (starboard, floor)
    else:
        inner = (port, floor), (starboard, floor)
    return ends[0], *inner, ends[1]


def random_block(rng: Random | _Measured, number: int) -> Block:
    """Return something that sticks out inside near the lower holes: a rectangle, a triangle or a lip across."""
    u, y = rng.uniform(-190, 190), -rng.uniform(120, 260)
    wide, high = rng.uniform(8, 70), rng.uniform(8, 70)
    outline = rng.choice((
        ((u, y), (u + wide, y), (u + wide, y + high), (u, y + high)),
        ((u, y), (u + wide, y + high / 3), (u + wide / 4, y + high)),
        ((-500, y + 190), (500, y + 190), (500, y + 200), (-500, y + 200)),
        ((u, y), (u + wide, y), (u + wide, y + high), (u + wide / 2, y + high / 2), (u, y + high)),
    ))  # fmt: skip
    return Block(name=f"block {number}", outline=outline, stands_out=rng.choice((None, rng.uniform(1, 80), rng.uniform(1, 8))))


def random_hardware(rng: Random | _Measured, pair: str) -> Hardware:
    """Return hardware of any thread with a washer whole or cut, at times a spacer, a backing plate or a head inside."""
    thread = bolt(rng.choice(("3/8-16", "7/16-14", "1/2-13", "1/2-20", "M10x1.5", "M12x1.75")))
    from_ = rng.choice(("outside", "outside", "inside", "before hanging"))
    hole = thread.diameter + rng.uniform(0.2, 2)
    outer = rng.uniform(28, 60)
    cut = rng.uniform(12.8, outer / 2) if rng.random() < 0.3 else None
    plate = None
    if rng.random() < 0.15:
        wide, low, thick = rng.uniform(150, 165), rng.uniform(-30, -20), rng.uniform(3, 12)
        relief = (rng.uniform(0, 10), rng.uniform(0.3, 1) * thick) if rng.random() < 0.6 else (0.0, 0.0)
        plate = BackingPlate(
            outline=((-wide, low), (wide, low), (wide, 30), (-wide, 30)), thickness=thick, relief=relief,
            material="aluminium 5083", joins=BOLT_NAMES[:2] if pair == "upper" else BOLT_NAMES[2:],
        )  # fmt: skip
    return half_inch_hardware(
        bolt=thread.name, hole=hole, inserted_from=from_, nut=rng.choice(nut_names(thread.name)),
        washer=Washer(outer=outer, inner=hole, thickness=rng.uniform(1.5, 5), flat_cut=cut),
        outside_washer=Washer(outer=outer, inner=hole, thickness=rng.uniform(1.5, 4), flat_cut=None),
        wedge=rng.choice((0.0, rng.uniform(-3, 3))), backing_plate=plate,
        spacer=Spacer(outer=rng.uniform(20, 30), inner=hole, length=rng.uniform(2, 20)) if rng.random() < 0.1 else None,
        socket=Socket(outer=rng.uniform(22, 34), length=rng.uniform(30, 90)) if rng.random() < 0.9 else None,
        nut_sizes=HexSizes(flats=19.0, corners=None, height=12.0) if rng.random() < 0.1 else None,
        spanner=Spanner(outer=28.6, thickness=13.9, swing=30.0, length=250.0, handle=16.0),
    )  # fmt: skip


def random_transom(rng: Random | _Measured) -> Transom:
    """Return a transom of any rake, cut and taper, parallel faces in half of all cases."""
    top = rng.uniform(30, 60)
    low = top if rng.random() < 0.5 else top + rng.uniform(-12, 12)
    return replace(
        example_design().transom,
        rake=rng.uniform(0, 20),
        top_cut=rng.choice(("level", "square", rng.uniform(-5, 20))),
        thickness=Thickness(top=top, low=low, low_at=-rng.uniform(200, 300)),
    )


def random_design(rng: Random | _Measured, *, square: bool | None = None) -> Design:
    """Return any one design; ``square``: bolts square to the inner face (True), leaning (False), or either (None)."""
    transom = random_transom(rng)
    taper = math.degrees(math.atan((transom.thickness.low - transom.thickness.top) / -transom.thickness.low_at))
    level = rng.random() < 0.5 if square is None else square

    def tilt() -> float:
        return taper if level else taper + rng.choice((-1, 1)) * rng.uniform(0.3, 15)

    depth, upper = rng.uniform(200, 290), rng.uniform(45, 70)
    well = Well(
        well_from=rng.choice(("inside top edge", "datum")),
        profile=random_profile(rng, depth),
        floor_rise=rng.uniform(-8, 25),
        fillet_radius=rng.choice((0.0, rng.uniform(2, 40), rng.uniform(2, 40))),
        length=rng.uniform(200, 500),
        front_lean=rng.uniform(-10, 25),
        front_height=40.0,
    )
    blocks = tuple(random_block(rng, number + 1) for number in range(rng.choice((0, 0, 1, 2))))
    design = example_design()
    mount = replace(
        design.mounts[0],
        row=rng.randrange(5), upper_at=-upper, drop=rng.uniform(145, 205), offset=rng.choice((0.0, rng.uniform(-15, 15))),
        upper_tilt=tilt(), lower_tilt=tilt(),
        upper_hardware=random_hardware(rng, "upper"), lower_hardware=random_hardware(rng, "lower"),
    )  # fmt: skip
    holes = tuple(
        OldHole(
            name=f"old hole {number + 1}", at=(rng.uniform(-180, 180), -rng.uniform(40, 280)), diameter=12.7,
            state=rng.choice(("open", "sealed", "plugged")), plug_diameter=25.4, reuse=rng.random() < 0.2, drill=None,
        )
        for number in range(rng.choice((0, 1, 2)))
    )  # fmt: skip
    return replace(
        design, name="random", transom=transom, well=None if rng.random() < 0.05 else well, inside_blocks=blocks,
        old_holes=holes, mounts=(mount,), units=rng.choice(("in", "mm")),
    )  # fmt: skip


class _Measured:
    """Chance with lengths and angles that somebody could have measured: none of 1e-209 mm."""

    def __init__(self, rng: Random) -> None:
        self.random, self.choice, self.randrange = rng.random, rng.choice, rng.randrange
        self._uniform = rng.uniform

    def uniform(self, low: float, high: float) -> float:
        return round(self._uniform(low, high), 6)


def designs(*, square: bool | None = None) -> st.SearchStrategy[Design]:
    """Return a strategy of valid designs; see `random_design`."""
    return st.randoms(use_true_random=False).map(lambda rng: random_design(_Measured(rng), square=square))


def numbers_of(design: Design) -> list[str]:
    """Return the dotted path of every measured number: what may be None, None or not."""
    kept = {"boltwell", "revision", "limits", "spreads", "assumptions", "readings", "boat"}
    bracket = ("half_spacing", "row0_depth", "pitch", "count", "slots")
    paths: list[str] = []

    def walk(value: Any, path: str) -> None:
        if isinstance(value, bool | str):
            return
        if isinstance(value, int | float):
            if not (".bracket.rows." in path or ".bracket.lower." in path) or not any(f".{name}" in path for name in bracket):
                paths.append(path)
        elif isinstance(value, tuple):
            for index, inner in enumerate(value):
                walk(inner, f"{path}.{index}")
        elif hasattr(value, "__struct_fields__"):
            for name in value.__struct_fields__:
                if path or name not in kept:
                    walk(getattr(value, name), f"{path}.{name}" if path else name)

    walk(design, "")
    return paths


__all__ = [
    "IN", "at_path", "changed", "clamp_on_mount", "designs", "example_design", "four_bolt_bracket", "half_inch_hardware",
    "mirrored", "numbers_of", "random_design", "sure", "twin_design",
]  # fmt: skip
