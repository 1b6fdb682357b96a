"""The work after the holes are drilled: core, dry fit, sealant and bolts, torque, launch, record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.decide.amounts_to_buy import has_wood, potting
from geometry.judge.bracket import hard_pad
from geometry.judge.wood_around_holes import core_bore
from geometry.solid.faces import Unmeasured
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.tables import fasteners
from templates_out.pages.shop.shop_buy import net
from templates_out.pages.shop.shop_figures import both_units, takes
from templates_out.pages.shop.shop_holes import NOT_KNOWN, known
from templates_out.pages.shop.shop_step import Step

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design

UNDER = "Let nobody stand under it."
LOCK = "Turn it to full lock both ways. Tilt it fully at each lock."


def core(design: Design) -> Iterator[Step]:
    """Yield how the core of each hole is kept dry."""
    if not has_wood(design):
        sealing = "Chamfer both ends of every hole. Clear out dust and swarf."
        if design.transom.core == "aluminium":
            yield Step(
                f"{sealing} Have a welder fill what must be filled, after the core is taken out. In aluminium no epoxy "
                "carries load.", uses=("countersink",), head="Core",
            )  # fmt: skip
        else:
            yield Step(f"{sealing} Coat cut laminate with neat epoxy. Let it cure.",
                       uses=("countersink", "epoxy", "epoxy kit"), head="Core")  # fmt: skip
        return
    every = bolts(design)
    widths = list(dict.fromkeys(known(lambda bolt=bolt: both_units(core_bore(bolt), design.units)) for bolt in every))  # type: ignore[misc]
    wide = " or ".join(widths) if NOT_KNOWN not in widths else "twice the bolt’s diameter"
    yield Step(
        f"Bore the core of each hole out to {wide}, from inside. Leave the outer skin at its drilled size.",
        "if the bored core is not dry and hard all around.", ("core cutter",), "Core",
    )  # fmt: skip
    yield Step(
        "Wet the core with neat epoxy. Fill it with thickened epoxy. Let it cure as long as the label says. Drill to size "
        f"again. Chamfer both ends for a collar of sealant.{takes(lambda: (net(potting(design)), potting(design).mix))}",
        uses=("epoxy", "epoxy kit", "step drills", "guide block", "countersink"),
    )


def dry_fit(design: Design) -> Iterator[Step]:
    """Yield the fit without sealant, with full lock and full tilt."""
    parts = _parts(design)
    pad = "Lay the hard pad under the bracket hook. " if hook_pads(design) else ""
    yield Step(
        f"Dry fit every bolt from the side that it goes in. {pad}Use the bracket, or a board drilled by this template.",
        "if a bolt does not go in by hand, a washer rocks, or no thread is beyond its nut.",
        (*parts, *(("hard pad",) if pad else ())), "Dry fit",
    )  # fmt: skip
    yield Step(
        f"Before any sealant, hoist the motor again, with the bolts in dry. Keep the hoist tight. {UNDER} {LOCK}",
        "if anything touches, or a hose or cable pulls.", ("hoist",),
    )  # fmt: skip


def _parts(design: Design) -> tuple[str, ...]:
    """Return the keys of the parts that go on the bolts."""
    every = [bolt.hardware for bolt in bolts(design)]
    return (
        "bolts", "nuts", "outside washers", "inside washers",
        *(("wedges",) if any(fitted.wedge for fitted in every) else ()),
        *(("spacers",) if any(fitted.spacer is not None for fitted in every) else ()),
        *(("backing plate",) if any(fitted.backing_plate is not None for fitted in every) else ()),
    )  # fmt: skip


def hook_pads(design: Design) -> dict[int, float]:
    """Return the thickness of each hard pad that a finding asks for under a bracket hook [mm], by the motor's number."""
    pads: dict[int, float] = {}
    for index, mount in enumerate(design.mounts):
        try:
            thick = None if mount.bracket.rows is None else hard_pad(design, index)
        except Unmeasured:
            continue
        if thick is not None:
            pads[index] = thick
    return pads


def hanging(design: Design) -> Iterator[Step]:
    """Yield sealant, and which bolt goes in when and from where."""
    every = bolts(design)
    before = [bolt for bolt in every if bolt.hardware.inserted_from == "before hanging"]
    outside = [bolt for bolt in every if bolt.hardware.inserted_from == "outside"]
    inside = [bolt for bolt in every if bolt.hardware.inserted_from == "inside"]
    head = "Seal and bolt"
    if before:
        yield Step(
            f"Before you hang the motor, put {_pairs(before)} into the bracket, heads aft. Tape them in place. Later they have "
            "no room to go in.", uses=("masking tape",), head=head,
        )  # fmt: skip
        head = ""
    doubtful = [bolt for bolt in outside if _room_aft(bolt) is None]
    if doubtful:
        yield Step(
            f"The room behind the bracket is not measured. Try {_pairs(doubtful)} in the bracket now. If one cannot go in once "
            "the motor hangs, put it in first.", head=head,
        )  # fmt: skip
        head = ""
    yield Step(
        f"Hoist the motor to its marks by the lifting eye, with a tag line. {UNDER} Put sealant in each hole, around each "
        f"shank, and under each inside washer or backing plate. Use no household silicone.{_stacked(design)}{_metals(design)}",
        uses=("hoist", "sealant"), head=head,
    )  # fmt: skip
    cut = [bolt for bolt in every if bolt.hardware.washer.flat_cut is not None]
    if cut:
        yield Step(
            f"Under {_pairs(cut)}, turn the flat side of each cut washer down, along the floor. Mark it.",
            "if a washer has turned.", ("file",),
        )  # fmt: skip
    if before:
        yield Step(f"Guide {_pairs(before)} through as the motor comes to the transom. Put washers and nuts on inside.")
    if outside:
        first = ", the upper pair first" if len({bolt.pair for bolt in outside}) == 2 else ""
        yield Step(
            f"Put {_pairs(outside)} in from outside{first}. One person holds the heads, a second puts on the nuts."
        )
    if inside:
        yield Step(f"Put {_pairs(inside)} in from inside, heads in the well. Put washers and nuts on outside.")


def _stacked(design: Design) -> str:
    """Say in which order backing plate, spacers and wedges go on, where there are any."""
    every = [bolt.hardware for bolt in bolts(design)]
    row = [
        name for name, there in (
            ("backing plate", any(fitted.backing_plate is not None for fitted in every)),
            ("spacer", any(fitted.spacer is not None for fitted in every)),
            ("wedge, its thick end where the gap is", any(fitted.wedge for fitted in every)),
        ) if there
    ]  # fmt: skip
    return f" On the bolt come, from the transom: {', '.join(row)}, washer, nut." if row else ""


def _metals(design: Design) -> str:
    """Say what keeps stainless off aluminium, where the two meet."""
    plates = [bolt.hardware.backing_plate for bolt in bolts(design)]
    aluminium = any(plate is not None and plate.material.lower().startswith("alumi") for plate in plates)
    meets = aluminium or design.transom.core == "aluminium"
    return " Stainless corrodes aluminium: keep the two apart with sealant, under washers too." if meets else ""


def _room_aft(bolt: Bolt) -> float | None:
    room = bolt.mount.bracket.room_aft
    return None if room is None else (room.upper if bolt.upper else room.lower)


def _pairs(some: list[Bolt]) -> str:
    pairs = list(dict.fromkeys(bolt.pair for bolt in some))
    return "all the bolts" if len(pairs) == 2 else f"the {pairs[0]} bolts"


def tightening_and_launch(design: Design) -> Iterator[Step]:
    """Yield torque, launch, and the record."""
    epoxy = "All epoxy is cured. " if design.transom.core != "aluminium" else ""
    lock = " Use each lock nut only once." if any(fasteners.locks(bolt.hardware.nut) for bolt in bolts(design)) else ""
    yield Step(
        f"{epoxy}Tighten as Torque on the nuts says, the same day, before the sealant cures.{lock} Lubricate the threads. "
        "Paint a stripe over bolt, nut and washer.",
        uses=("torque wrench", "nut wrench", "head wrench", "lubricant", "stripe paint"), head="Torque",
    )  # fmt: skip
    yield Step(
        "Launch with a light load. Look at every bolt and at the well. Run slowly. Check the torque of every nut at "
        "the times in As tightened.", "if water weeps in, or a stripe has moved.", ("torque wrench",), "Launch and record",
    )  # fmt: skip
    yield Step("Print the Record. Write into it what you drilled, filled and tightened. Keep it with the boat’s papers.")
