"""Every check, one record each: its words, its place in the manual, and whether it keeps holes from being drilled.

To add a check, add a record here and a function that reports its findings (`geometry.judge.check`).
"""

from __future__ import annotations

from typing import Literal

import msgspec
from msgspec.structs import replace

Family = Literal["room", "wood", "load", "motor", "reading"]
"""The kind of question that a check asks. It decides the words for a state."""
Stops = Literal["always", "over its limit", "never"]
"""When a check keeps holes from being drilled: fouled or not checked; only fouled; never."""
Zone = Literal["", "bolt", "pattern"]
"""Which drillable zone covers a check: each bolt's, only the whole pattern's, or none."""


class CheckKind(msgspec.Struct, frozen=True, kw_only=True):
    """One check, for the whole program.

    Attributes:
        key: its name in a finding and in JSON.
        title: the title of a finding. "{}" becomes the bolt, a second one the face or the old hole.
        aside: titles of its findings that never keep holes from being drilled, each by the last part of its place.
        both: the title of two like findings, port and starboard; "" where no bolt has the check.
        noun: the thing that is not checked yet, of one bolt. nouns: of several, for a list.
        family: the kind of question.
        place: its anchor on the manual's page of findings.
        order: its place among findings of equal weight, from its position in `CHECK_KINDS`.
        of: the whole that a ratio is a share of; "" where the value is no ratio.
        limits: the name of its limits in the design; "" where the check has limits for it alone.
        less_is_better: whether its two limits are one figure that the value must not exceed.
        stops: when it keeps holes from being drilled.
        by_chance: whether it also does so while the chance that it is right is too small.
        in_well: whether it is the room of one part of a bolt inside the well.
        zone: which drillable zone covers it.
        instead: the action to avoid, where moving a hole does not help; "" where it may help.
        ease: the title of the next step, where no upper hole and no drop helps; "" where one may.
        clear_line, clear_name: the first words of the line of clear findings, and this check's name in it; "" for none.
        of_hardware: whether its value is the same at every place of the holes.
        own_page: whether it has a page for it alone on the shop sheet.
        brief: three or four words for a list of fits, with "{pair}", "{figure}" and "{last}" for the last part of its place;
            "" for its title and figure.
        hardware: the readings of a bolt's hardware that it needs besides washers and spacer, each the beginning of a key.
        part, parts: the name of one part, and of several, in the list at a glance. Where there are ``parts``, the bolt comes
            first; "{last}" becomes the last part of its place. "" for the title.
        hits: what follows the part there, where the finding is clear, tight, fouled or a note; "{}" becomes the obstacle. A
            length below 0 has the words of fouled.
        bar: whether a bar shows its share of the limit there.
        lights: the part of a bolt that its line lights in face and cut; "bracket" for the motor's bracket, "sweep" for its
            sweep, "old hole".
    """

    key: str
    title: str
    aside: tuple[tuple[str, str], ...] = ()
    both: str = ""
    noun: str
    nouns: str
    family: Family
    place: str
    order: int = 99
    of: str = ""
    limits: str = ""
    less_is_better: bool = False
    stops: Stops = "always"
    by_chance: bool = False
    in_well: bool = False
    zone: Zone = ""
    instead: str = ""
    ease: str = ""
    clear_line: str = ""
    clear_name: str = ""
    of_hardware: bool = False
    own_page: bool = False
    lights: str = "hole"
    brief: str = ""
    part: str = ""
    parts: str = ""
    hits: tuple[str, str, str, str] = ("clears {}", "close to {}", "overlaps {}", "")
    bar: bool = False
    hardware: tuple[str, ...] = ()


def _in_well(key: str, name: str, hardware: tuple[str, ...]) -> CheckKind:
    return CheckKind(
        key=key, title=f"{{}} {name}", both=f"Both {{}} {name}s", noun=f"{name} clearance", nouns=f"{name}s", family="room",
        place="washer-nut-socket-thread-end", limits="clearance", by_chance=True, in_well=True, zone="bolt",
        clear_line="Least room inside", clear_name=f"{name}s", lights=key,
        brief=f"{{pair}} {name} {{figure}}", hardware=hardware, part=name, parts=f"{name}s",
        hits=("clears {}", "close to {}", "overlaps {}", "does not fit: use a ring spanner"),
    )  # fmt: skip


_ALL = (
    CheckKind(
        key="reading", title="Reading: {}", noun="reading", nouns="readings", family="reading", place="unlikely-readings",
        stops="never",
        hits=("agrees", "", "contradicts another", "looks unlikely"),
    ),
    _in_well("washer", "washer", ()),
    _in_well("nut", "nut", ("nut_sizes.", "head_sizes.")),
    _in_well("socket", "socket", ("socket.", "spanner.")),
    _in_well("thread_end", "thread end", ("length", "nut_sizes.", "outside_washer.thickness")),
    CheckKind(
        key="socket_room", title="Room for the {} socket", both="Room for both {} sockets", noun="room for the socket",
        nouns="room for the sockets", limits="socket_room", family="room", place="room-for-the-socket-and-to-insert-the-bolt",
        clear_line="Least room to work", clear_name="in front of the sockets",
        part="socket", parts="sockets",
        hits=("has room in front", "has little room in front", "has no room in front", ""),
    ),
    CheckKind(
        key="spanner", title="Room to turn the {} nut", both="Room to turn both {} nuts", noun="room to turn the nut",
        nouns="room to turn the nuts", family="room", place="room-to-turn-a-wrench", by_chance=True, lights="spanner",
        zone="bolt", clear_line="Least swing of a wrench", ease="Use another tool",
        part="nut", parts="nuts",
        hits=("has room for a wrench", "has little room for a wrench", "has no room for a wrench", ""),
    ),
    CheckKind(
        key="feed", title="Room to insert the {} bolt", both="Room to insert the {} bolts", noun="room to insert the bolt",
        nouns="room to insert the bolts", family="room", place="room-for-the-socket-and-to-insert-the-bolt", stops="never",
        limits="feed",
        clear_line="Least room to work", clear_name="to insert the bolts",
        part="bolt", parts="bolts",
        hits=("has room to go in", "has little room to go in", "has no room to go in", "goes in before the motor hangs"),
    ),
    CheckKind(
        key="neighbour", title="Gap between bolts inside", noun="gap", nouns="gap between bolts", family="room",
        place="gap-between-bolts", limits="clearance", by_chance=True, zone="pattern",
        clear_line="Least room inside", clear_name="from bolt to bolt",
        part="Bolts inside",
        hits=("clear each other", "close together", "overlap", ""),
    ),
    CheckKind(
        key="edge", title="{} hole, {} edge", both="Both {} holes, {} edge", noun="edge distance", nouns="holes to the edges",
        brief="{pair} holes {figure} from the {last} edge",
        family="wood", place="edge", limits="edge_diameters", zone="bolt", clear_line="Least distance from a hole to an edge",
        part="hole", parts="holes",
        hits=("clear of the {last} edge", "close to the {last} edge", "too close to the {last} edge", ""),
    ),
    CheckKind(
        key="top_edge", title="{} hole below the top", both="Both {} holes below the top", noun="depth below the top edge",
        brief="{pair} holes {figure} below the top",
        nouns="holes below the top edge", family="wood", place="top-edge", limits="top_edge", zone="bolt",
        clear_line="Least depth of a hole below the top edge",
        part="hole", parts="holes",
        hits=("well below the top", "close to the top", "too close to the top", ""),
    ),
    CheckKind(
        key="old_hole", title="{} hole, {}", both="Both {} holes, {}", noun="wood next to the old hole",
        brief="{last} {figure}",
        nouns="holes to the old ones", family="wood", place="old-hole", limits="wood_between_diameters", by_chance=True,
        zone="bolt", clear_line="Least wood between new and old holes",
        part="hole", parts="holes",
        hits=("clears {}", "close to {}", "overlaps {}", "uses {} again"),
    ),
    CheckKind(
        key="over_opening", title="{} washer, {}", both="Both {} washers, {}", noun="washer next to the opening",
        nouns="washers next to openings", family="room", place="openings", limits="clearance", zone="bolt", lights="washer",
        clear_line="Least room inside", clear_name="washers next to openings", brief="{pair} washer {figure} from {last}",
        part="washer", parts="washers", hits=("clears {}", "close to {}", "overlaps {}", ""),
    ),
    CheckKind(
        key="left_pilot", title="Pilot next to the {} hole", both="Pilots next to both {} holes",
        noun="pilot next to the hole", nouns="pilots next to the holes", family="wood", place="pilots-that-stay-open",
        stops="over its limit", zone="bolt",
        part="pilot", parts="pilots",
        hits=("", "stays open next to its hole", "too close to its hole", ""),
    ),
    CheckKind(
        key="crowding", title="Wood between two old holes", noun="wood between the holes", nouns="wood between old holes",
        family="wood", place="crowding", limits="wood_between_diameters", instead="Don't drill yet", lights="old hole",
        clear_line="Least wood between old holes", ease="Fill the old holes",
        part="Two old holes", hits=("far enough apart", "close together", "too close together", ""),
    ),
    CheckKind(
        key="bearing", title="Bracket on the transom", noun="support", nouns="support of the bracket", family="wood",
        place="bearing", zone="pattern", lights="bracket",
        aside=(("above the top", "Bracket above the top"), ("covered", "Fitting under the bracket")),
        part="Bracket",
        hits=("rests on the transom", "", "not wholly on the transom", ""),
    ),
    CheckKind(
        key="row", title="Lower bolts in the slot", noun="place in the slot", nouns="place in the slot", family="motor",
        brief="slot’s end {figure}",
        lights="bracket", place="lower-bolts-in-the-slot", limits="slot_end", by_chance=True,
        part="Lower bolts",
        hits=("inside the slot", "close to the slot's end", "beyond the slot's end", ""),
    ),
    CheckKind(
        key="outer_washer", title="Outer washer of the {} bolt", both="Outer washers of both {} bolts", noun="outer washer",
        nouns="outer washers", family="motor", place="outer-washer", of="× the slot or hole", instead="Don't drill yet",
        limits="outer_washer",
        ease="Use wider outer washers", clear_line="Least width of an outer washer",
        of_hardware=True, lights="outside washer",
        part="outer washer", parts="outer washers",
        hits=("covers the slot or hole", "barely covers the slot or hole", "too small for the slot or hole", ""),
    ),
    CheckKind(
        key="motors", title="Room between the brackets", noun="room between the brackets", nouns="room between the brackets",
        limits="motors", family="room", place="motors", lights="bracket", clear_line="Least room between motors",
        ease="Move the motors apart",
        aside=(("cowls", "Room between the cowls"), ("centrelines", "Distance between the motors")),
        part="Brackets", hits=("clear each other", "close together", "overlap", ""),
    ),
    CheckKind(
        key="tilt_room", title="Room to tilt the motor", noun="room to tilt", nouns="room to tilt", family="room",
        place="room-to-tilt-and-turn", limits="tilt_room", stops="never", lights="sweep",
        clear_line="Least room to tilt and turn", clear_name="tilted", ease="Make room to tilt the motor",
        part="Tilted motor",
    ),
    CheckKind(
        key="lock_room", title="Room to turn the motor", noun="room to turn", nouns="room to turn", family="room",
        place="room-to-tilt-and-turn", limits="lock_room", stops="never", lights="sweep",
        clear_line="Least room to tilt and turn", clear_name="turned", ease="Make room to turn the motor",
        aside=(("sweeps", "Room between turned motors"),), part="Turned motor",
    ),
    CheckKind(
        key="saddle", title="Gap under the bracket hook", lights="bracket", noun="gap under the bracket hook",
        nouns="gap under the bracket hook", family="motor", place="gap-under-the-bracket-hook", stops="never", zone="pattern",
        part="Bracket hook",
        hits=("on the transom's top", "", "below the transom's top", "above the transom's top"),
    ),
    CheckKind(
        key="length", title="Length of the {} bolt", both="Length of both {} bolts", noun="length", nouns="bolt length",
        family="room", place="length-and-shank", clear_line="Least thread", clear_name="beyond the nuts",
        of_hardware=True,
        part="bolt", parts="bolts",
        hits=("long enough", "barely long enough", "of the wrong length", ""),
    ),
    CheckKind(
        key="shank", title="Thread left on the {} bolt", both="Thread left on both {} bolts", noun="thread left",
        nouns="thread left", family="room", place="length-and-shank", clear_line="Least thread",
        clear_name="left under the nuts", of_hardware=True,
        part="bolt", parts="bolts",
        hits=("has thread left", "has little thread left", "has no thread left", ""),
    ),
    CheckKind(
        key="seat", title="Seat of the {} bolt", both="Seat of both {} bolts", noun="seat", nouns="seats", family="wood",
        place="seat", limits="seat_angle", clear_line="Most tilt under a head or washer",
        of_hardware=True,
        part="head", parts="heads",
        hits=("sits flat", "sits a little tilted", "sits too tilted", ""),
    ),
    CheckKind(
        key="clamp", title="Clamp of the {} bolt", both="Clamp of both {} bolts", noun="clamp force", nouns="clamp force",
        limits="clamp", family="load", place="clamp-and-pressure", of="of the proof load", stops="over its limit",
        instead="Don't tighten so", ease="Take less torque", clear_line="Highest load",
        clear_name="clamp", own_page=True, of_hardware=True,
        part="Torque on the bolts", bar=True, hits=("", "", "nothing clamps", ""),
    ),
    CheckKind(
        key="pressure", title="{} washer on the core", both="Both {} washers on the core", noun="pressure on the core",
        nouns="pressure on the core", limits="pressure", family="load", place="clamp-and-pressure", of="× what it supports",
        stops="over its limit", instead="Don't tighten so", ease="Ease the core", clear_line="Highest load",
        clear_name="pressure on the core", own_page=True, of_hardware=True,
        part="Torque on the core", bar=True, hits=("", "", "no core under it", "core not known"),
    ),
    CheckKind(
        key="washer_stiff", title="Stiffness of the {} {}", both="Stiffness of both {} {}s", noun="stiffness of the washer",
        nouns="stiffness of the washers", limits="washer_stiff", family="wood", lights="washer",
        place="washer-stiffness", of="of an eighth of its width",
        stops="never", ease="Use thicker washers", clear_line="Least washer stiffness",
        clear_name="thickness", of_hardware=True,
        part="{last}", parts="{last}s",
        hits=("thick enough", "rather thin", "too thin", ""),
    ),
    CheckKind(
        key="joint", title="Pull on the bolts", noun="pull on the bolts", nouns="pull on the bolts", family="load",
        limits="joint",
        place="pull-on-the-bolts", of="× the clamp that stays", stops="never", lights="bracket",
        ease="Keep the bolts clamped",
        part="Pull on the bolts", bar=True, hits=("", "", "", "nothing clamps"),
    ),
    CheckKind(
        key="height", title="AV plate above the bottom", noun="height of the AV plate", nouns="height of the AV plate",
        family="motor", place="av-plate-above-the-bottom", stops="never",
        part="AV plate", hits=("above the bottom", "", "below the bottom", "above the bottom"),
    ),
    CheckKind(
        key="power", title="Motor's power", noun="power", nouns="power", family="load",
        place="power", of="of the limit", less_is_better=True, stops="never", ease="Mind the boat's capacity plate",
        of_hardware=True,
        part="Motor's power", bar=True, hits=("", "", "", "limit not known"),
    ),
    CheckKind(
        key="weight", title="Motor's weight", noun="weight on the transom", nouns="weight on the transom", family="load",
        place="weight", of="× allowed or usual", less_is_better=True, stops="never",
        ease="Mind the boat's capacity plate", of_hardware=True,
        aside=(
            ("old motor", "Weight against the old motor"), ("old motor's power", "Power against the old motor"),
            ("old motor's moment", "Moment against the old motor"), ("persons", "Persons aboard"),
        ),
        part="Motor's weight", bar=True, hits=("", "", "", "limit not known"),
    ),
    CheckKind(
        key="clamp_on", title="Transom in the clamp", noun="fit of the clamp", nouns="fit of the clamp", family="motor",
        place="clamp-on",
        part="Transom", hits=("fits the clamp", "barely fits the clamp", "does not fit the clamp", ""),
    ),
)  # fmt: skip

CHECK_KINDS: dict[str, CheckKind] = {kind.key: replace(kind, order=number) for number, kind in enumerate(_ALL)}
"""Every check by its key, in the order that lists findings of equal weight."""

IN_WELL = tuple(kind.key for kind in _ALL if kind.in_well)
"""The parts of a bolt that need room inside."""
