"""Usual sizes in place of what is not known yet, so that a picture of what to measure has something to point at."""

from __future__ import annotations

from msgspec.structs import replace

from geometry.design.boat import Thickness, Transom, Well
from geometry.design.design import Design
from geometry.design.motor import Mount
from geometry.design.validity import NonsenseError, known

_USUAL_TOP = ((-700.0, 60.0), (-330.0, 60.0), (-330.0, 0.0), (330.0, 0.0), (330.0, 60.0), (700.0, 60.0), (620.0, -420.0),
              (0.0, -520.0), (-620.0, -420.0))  # fmt: skip
_USUAL_WELL = ((-320.0, 0.0), (-300.0, -240.0), (300.0, -240.0), (320.0, 0.0))
_USUAL_BLOCK = ((-20.0, -240.0), (20.0, -240.0), (20.0, -208.0), (-20.0, -208.0))
_USUAL_FITTING = ((300.0, -300.0), (340.0, -300.0), (340.0, -260.0), (300.0, -260.0))
_USUAL_BRACKET = ((-190.0, 0.0), (190.0, 0.0), (190.0, -120.0), (150.0, -350.0), (-150.0, -350.0), (-190.0, -120.0))


def sketched(design: Design) -> Design:
    """Return ``design`` with usual sizes where something that is drawn is not known."""
    try:
        return replace(
            design, transom=_transom(design.transom), well=_well(design.well),
            mounts=tuple(_mount(mount) for mount in design.mounts),
            inside_blocks=tuple(
                thing if known(thing.outline) else replace(thing, outline=_USUAL_BLOCK) for thing in design.inside_blocks
            ),
            outside_fittings=tuple(
                thing if known(thing.outline) else replace(thing, outline=_USUAL_FITTING) for thing in design.outside_fittings
            ),
        )  # fmt: skip
    except NonsenseError:  # what is known does not go with the usual sizes: draw the usual boat
        usual = Thickness(top=44.0, low=44.0, low_at=-250.0)
        transom = replace(design.transom, outline=_USUAL_TOP, rake=14.0, top_cut="level", thickness=usual)
        well = None if design.well is None else replace(
            design.well, profile=_USUAL_WELL, floor_rise=3.0, fillet_radius=12.0, length=400.0, front_lean=0.0
        )  # fmt: skip
        return replace(
            design, transom=transom, well=well, mounts=tuple(_mount(mount) for mount in design.mounts), inside_blocks=(),
            outside_fittings=(),
        )  # fmt: skip


def _or(value: float | None, usual: float) -> float:
    return usual if value is None else value


def _transom(transom: Transom) -> Transom:
    thick = transom.thickness
    if None in (thick.top, thick.low, thick.low_at):
        top = _or(thick.top, _or(thick.low, 44.0))
        thick = Thickness(top=top, low=top, low_at=_or(thick.low_at, -250.0))
    return replace(
        transom, outline=transom.outline if known(transom.outline) else _USUAL_TOP, rake=_or(transom.rake, 14.0),
        top_cut="level" if transom.top_cut is None else transom.top_cut, thickness=thick,
        skin_outside=_or(transom.skin_outside, 4.0), skin_inside=_or(transom.skin_inside, 4.0),
    )  # fmt: skip


def _well(well: Well | None) -> Well | None:
    if well is None:
        return None
    return replace(
        well, profile=well.profile if known(well.profile) else _USUAL_WELL, floor_rise=_or(well.floor_rise, 3.0),
        fillet_radius=_or(well.fillet_radius, 12.0), length=_or(well.length, 400.0), front_lean=_or(well.front_lean, 0.0),
    )  # fmt: skip


def _mount(mount: Mount) -> Mount:
    bracket = mount.bracket if known(mount.bracket.outline) else replace(mount.bracket, outline=_USUAL_BRACKET)
    hung = {} if bracket.rows is None else {"upper_at": _or(mount.upper_at, -50.8), "row": mount.row or 0}
    return replace(mount, bracket=bracket, offset=_or(mount.offset, 0.0), **hung)
