"""Every bolt of a design: its hole on both faces, and the parts on it.

A bolt calculates each value when it is needed. A value without its reading raises `Unmeasured` and leaves the others
alone. Distances along the axis count forward from the seat on the inner face [mm].
"""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING

import msgspec
from msgspec.structs import replace

from geometry.design.hardware import BOLT_NAMES
from geometry.design.validity import CLOSE
from geometry.solid.discs import Disc
from geometry.solid.faces import Exit, Faces, Point, exit_of, faces, need
from geometry.solid.planes import turns_left
from geometry.tables import fasteners

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.design.design import Design
    from geometry.design.hardware import BackingPlate, BoltName, Hardware, Washer
    from geometry.design.motor import Mount


class Body(msgspec.Struct, frozen=True):
    """A round part along the axis from ``start`` to ``end`` [mm]; ``part`` is the check's name for it."""

    part: str
    start: float
    end: float
    shape: Disc


class OwnHole(msgspec.Struct, frozen=True):
    """Where a bolt's hole was drilled. An end is None where nobody read it.

    Attributes:
        outer: (u, v) on the outer face. inner: (u, w) on the inner face. diameter: None where it is as planned [mm].
        washer, flat_cut, socket: this hole's own inside washer, its cut, and its own socket across; None: as planned [mm].
    """

    outer: Point | None
    inner: Point | None
    diameter: float | None
    washer: float | None = None
    flat_cut: float | None = None
    socket: float | None = None

    def fitted(self, hardware: Hardware) -> Hardware:
        """Return a pair's hardware with this hole's own washer and socket. Another washer is whole unless its cut is given."""
        washer, socket = hardware.washer, hardware.socket
        if self.washer is not None:
            washer = replace(washer, outer=self.washer, flat_cut=None)
        if self.flat_cut is not None:
            washer = replace(washer, flat_cut=self.flat_cut)
        if self.socket is not None and socket is not None:
            socket = replace(socket, outer=self.socket)
        return replace(hardware, washer=washer, socket=socket)


class Bolt(msgspec.Struct, frozen=True, dict=True):
    """One bolt of one mount.

    Attributes:
        design: the design that it belongs to. mount_index, mount: which motor.
        name: "upper port", "upper starboard", "lower port" or "lower starboard".
        off: how far its hole is off the plan, (u, v) on the outer face: there its pilot is [mm].
        own: its hole as drilled, None where the plan counts.
    """

    design: Design
    mount_index: int
    mount: Mount
    name: BoltName
    off: tuple[float, float] = (0.0, 0.0)
    own: OwnHole | None = None

    @cached_property
    def at(self) -> str:
        """Its name in findings: mount and bolt."""
        return f"{self.mount.name} / {self.name}"

    @cached_property
    def upper(self) -> bool:
        """Whether it belongs to the upper pair."""
        return self.name.startswith("upper")

    @cached_property
    def pair(self) -> str:
        """Its pair: "upper" or "lower"."""
        return "upper" if self.upper else "lower"

    @property
    def port(self) -> bool:
        """Whether it is the port bolt."""
        return self.name.endswith("port")

    def key(self, field: str) -> str:
        """Return the measure's key of a value of this mount."""
        return f"mounts.{self.mount_index}.{field}"

    def hardware_key(self, field: str) -> str:
        """Return the measure's key of a value of this bolt's hardware."""
        return f"{self._hardware_key}{field}"

    @cached_property
    def _hardware_key(self) -> str:
        return self.key(f"{self.pair}_hardware.")

    @cached_property
    def hardware(self) -> Hardware:
        """The hardware in this hole."""
        hardware = self.mount.upper_hardware if self.upper else self.mount.lower_hardware
        if hardware is None:
            raise TypeError("a bracket without bolts has no hardware")
        return hardware if self.own is None else self.own.fitted(hardware)

    @cached_property
    def thread(self) -> fasteners.Bolt:
        """The published bolt."""
        return fasteners.bolt(self.hardware.bolt)

    @cached_property
    def faces(self) -> Faces:
        """The transom's faces."""
        return faces(self.design.transom)

    @cached_property
    def u(self) -> float:
        """Across on the outer face [mm]."""
        if self.own is not None and self.own.outer is not None:
            return self.own.outer[0]
        if self.own is not None and self.own.inner is not None:
            return self.own.inner[0]
        spread = self.mount.bracket.rows if self.upper else self.mount.bracket.lower
        if spread is None:
            raise TypeError("a bracket without bolts has no holes")
        offset = need(self.mount.offset, self.key("offset")) + self.off[0]
        return offset - spread.half_spacing if self.port else offset + spread.half_spacing

    @cached_property
    def v(self) -> float:
        """Up the outer face [mm]."""
        if self.own is not None and self.own.outer is not None:
            return self.own.outer[1]
        if self.own is not None and self.own.inner is not None:  # drilled as planned, from its inner end back
            v, s = self.faces.face_point(self.own.inner[1], 0.0)
            return v - s * math.tan(math.radians(self._planned_tilt))
        upper_at = need(self.mount.upper_at, self.key("upper_at")) + self.off[1]
        return upper_at if self.upper else upper_at - need(self.mount.drop, self.key("drop"))

    @cached_property
    def tilt(self) -> float:
        """Of the axis from square, inner end higher positive [degrees]."""
        if self.own is not None and self.own.outer is not None and self.own.inner is not None:
            v, s = self.faces.face_point(self.own.inner[1], 0.0)
            return math.degrees(math.atan2(v - self.own.outer[1], s))
        return self._planned_tilt

    @property
    def _planned_tilt(self) -> float:
        if self.upper:
            return need(self.mount.upper_tilt, self.key("upper_tilt"))
        return need(self.mount.lower_tilt, self.key("lower_tilt"))

    @cached_property
    def exit(self) -> Exit:
        """The place where it meets the inner face."""
        planned = exit_of(self.faces, self.u, self.v, self.tilt)
        if self.own is None or self.own.inner is None:
            return planned
        across = self.own.inner[0] - self.u
        return replace(planned, u=self.own.inner[0], along=math.hypot(planned.along, across))

    @cached_property
    def sway(self) -> float:
        """How far the axis goes across for each length that it goes in, as drilled; 0 in the plan."""
        return (self.exit.u - self.u) / self.exit.s if self.own is not None else 0.0

    @cached_property
    def hole(self) -> float:
        """Diameter of the hole through the transom [mm]."""
        if self.own is not None and self.own.diameter is not None:
            return self.own.diameter
        return need(self.hardware.hole, self.hardware_key("hole"))

    @cached_property
    def plate_pair(self) -> str | None:
        """The pair whose hardware has its backing plate: "upper", "lower", or None without one."""
        for pair, hardware in (("upper", self.mount.upper_hardware), ("lower", self.mount.lower_hardware)):
            if hardware is not None and hardware.backing_plate is not None and self.name in hardware.backing_plate.joins:
                return pair
        return None

    @cached_property
    def plate(self) -> BackingPlate | None:
        """Its backing plate, from either pair's hardware."""
        if self.plate_pair is None:
            return None
        hardware = self.mount.upper_hardware if self.plate_pair == "upper" else self.mount.lower_hardware
        return None if hardware is None else hardware.backing_plate

    def plate_key(self, field: str) -> str:
        """Return the measure's key of a value of its backing plate."""
        return self.key(f"{self.plate_pair}_hardware.backing_plate.{field}")

    @cached_property
    def plate_thickness(self) -> float:
        """Thickness of its backing plate, 0 without one [mm]."""
        return 0.0 if self.plate is None else need(self.plate.thickness, self.plate_key("thickness"))

    @cached_property
    def spacer_length(self) -> float:
        """Length of its spacer, 0 without one [mm]."""
        spacer = self.hardware.spacer
        return 0.0 if spacer is None else need(spacer.length, self.hardware_key("spacer.length"))

    @cached_property
    def washer_disc(self) -> Disc:
        """The inside washer's true shape."""
        return self._disc(self.hardware.washer, "washer")

    @cached_property
    def washer_at(self) -> float:
        """Start of the inside washer: backing plate and spacer are under it [mm]."""
        return self.plate_thickness + self.spacer_length

    @cached_property
    def nut_at(self) -> float:
        """Start of the nut, or of the head of a bolt that is inserted from inside [mm]."""
        return self.washer_at + need(self.hardware.washer.thickness, self.hardware_key("washer.thickness"))

    @cached_property
    def nut_height(self) -> float:
        """Height of the nut, on either side [mm]."""
        return need(self.hardware.nut_hexagon.height, self.hardware_key("nut_sizes.height"))

    @cached_property
    def head_height(self) -> float:
        """Of the bolt's head [mm]."""
        return need(self.hardware.head_hexagon.height, self.hardware_key("head_sizes.height"))

    @cached_property
    def grip(self) -> float:
        """Distance from head to nut [mm]."""
        rows, lower = self.mount.bracket.rows, self.mount.bracket.lower
        pad = (rows if self.upper else lower).pad_thickness  # type: ignore[union-attr]
        field = "bracket.rows.pad_thickness" if self.upper else "bracket.lower.pad_thickness"
        outside = need(self.hardware.outside_washer.thickness, self.hardware_key("outside_washer.thickness"))
        return outside + need(pad, self.key(field)) + self.exit.along + self.nut_at

    @cached_property
    def window(self) -> tuple[float, float]:
        """Shortest and longest length that fits: two threads showing, and the nut clear of the shank [mm].

        The longest is calculated with the thread of a bolt of the shortest length.
        """
        low = self.grip + self.nut_height + 2 * self.thread.pitch
        return low, self.grip + self.thread.thread_length(low)

    @cached_property
    def fitting_lengths(self) -> tuple[float, ...]:
        """Stock lengths that fit, shortest first [mm]."""
        return tuple(self._fitting())

    def _fitting(self) -> Iterator[float]:
        low, grip = self.window[0], self.grip
        for length in self.thread.stock_lengths():
            if low - CLOSE <= length <= grip + self.thread.thread_length(length) + CLOSE:
                yield length

    @cached_property
    def length(self) -> float | None:
        """The bolt's length: as entered, else the shortest stock length that fits, None where none does [mm]."""
        return next(self._fitting(), None) if self.hardware.length is None else self.hardware.length

    @property
    def from_inside(self) -> bool:
        """Whether the head is inside."""
        return self.hardware.inserted_from == "inside"

    def body(self, part: str) -> Body | None:
        """Return one body inside: "spacer", "washer", "nut", "thread_end", "socket" or "ring"; None where there is none.

        "ring" is that of a ring spanner. A ring spanner replaces the socket where no socket is given.

        Raises:
            Unmeasured: one of its sizes is not known.
        """
        if part not in self._bodies:  # checks of room and of neighbours, and both views, ask for the same
            self._bodies[part] = self._swayed(self._body(part))
        return self._bodies[part]

    def _swayed(self, body: Body | None) -> Body | None:
        """Return a body as wide as it needs to be to hold one that goes across as it goes in. The plan's bodies stay."""
        if body is None or self.own is None or self.sway == 0.0:
            return body
        wider = max(abs(body.start), abs(body.end)) * abs(self.sway)
        return replace(body, shape=replace(body.shape, radius=body.shape.radius + wider))

    @cached_property
    def _bodies(self) -> dict[str, Body | None]:
        return {}

    def _body(self, part: str) -> Body | None:
        start = self.nut_at if part in ("nut", "thread_end", "socket") else 0.0
        if part == "washer":
            return Body(part, self.washer_at, self.nut_at, self.washer_disc)
        if part == "spacer":
            return self._spacer()
        if part == "nut":
            hexagon = self.hardware.inside_hexagon
            field = "head_sizes" if self.from_inside else "nut_sizes"
            corners = need(hexagon.corners, self.hardware_key(f"{field}.flats"))
            height = need(hexagon.height, self.hardware_key(f"{field}.height"))
            return Body(part, start, start + height, Disc(corners / 2))
        if part == "thread_end":
            return self._thread_end()
        return self._ring("ring") if part == "ring" else self._socket()

    def _spacer(self) -> Body | None:
        spacer = self.hardware.spacer
        if spacer is None:
            return None
        outer = need(spacer.outer, self.hardware_key("spacer.outer"))
        return Body("spacer", self.plate_thickness, self.washer_at, Disc(outer / 2))

    def _thread_end(self) -> Body | None:
        if self.from_inside or self.length is None:
            return None
        start = self.nut_at + self.nut_height
        end = start + self.length - self.grip - self.nut_height
        return Body("thread_end", start, end, Disc(self.thread.diameter / 2)) if end > start else None

    def _socket(self) -> Body | None:
        socket = self.hardware.socket
        if socket is None:
            return self._ring("socket")
        outer = need(socket.outer, self.hardware_key("socket.outer"))
        length = need(socket.length, self.hardware_key("socket.length"))
        return Body("socket", self.nut_at, self.nut_at + length, Disc(outer / 2))

    def _ring(self, part: str) -> Body | None:
        spanner = self.hardware.spanner
        if spanner is None:
            return None
        outer = need(spanner.outer, self.hardware_key("spanner.outer"))
        thickness = need(spanner.thickness, self.hardware_key("spanner.thickness"))
        return Body(part, self.nut_at, self.nut_at + thickness, Disc(outer / 2))

    def _disc(self, washer: Washer, field: str) -> Disc:
        outer = need(washer.outer, self.hardware_key(f"{field}.outer"))
        return Disc(outer / 2) if washer.flat_cut is None else Disc(outer / 2, washer.flat_cut)


def bolts(design: Design) -> tuple[Bolt, ...]:
    """Return every bolt of ``design``, mount by mount, upper port first."""
    kept: tuple[Bolt, ...] | None = design.__dict__.get("bolts")  # check and views ask at each move of a hand
    if kept is None:
        kept = design.__dict__["bolts"] = tuple(
            Bolt(design, index, mount, name)
            for index, mount in enumerate(design.mounts)
            if mount.bracket.rows is not None
            for name in BOLT_NAMES
        )
    return kept


def with_holes_off(design: Design, off: dict[tuple[int, str], tuple[float, float]]) -> Design:
    """Return ``design`` with some holes off their plan, by motor and name, (u, v) on the outer face [mm].

    It is not written in a file, and a design made from this one has its holes at the plan again.
    """
    fresh = replace(design)
    placed = bolts(fresh)
    fresh.__dict__["bolts"] = tuple(replace(bolt, off=off.get((bolt.mount_index, bolt.name), bolt.off)) for bolt in placed)
    return fresh


def plate_ring(joined: tuple[Bolt, ...], plate: BackingPlate, n: float) -> tuple[Point, ...]:
    """Return a backing plate's section at ``n`` in front of the inner face, in (u, w) [mm].

    The outline is centred on the midpoint of the exits. The relief moves up the edges that face down more than sideways,
    by along·(1 - n/through).

    Raises:
        Unmeasured: a corner, or an exit, is not known.
    """
    u0 = sum(bolt.exit.u for bolt in joined) / len(joined)
    w0 = sum(bolt.exit.w for bolt in joined) / len(joined)
    key = joined[0].plate_key("outline")
    ring = [(need(u, key) + u0, need(w, key) + w0) for u, w in plate.outline]
    along, through = (need(value, joined[0].plate_key(f"relief.{at}")) for at, value in enumerate(plate.relief))
    lift = along * (1 - n / through) if along > 0 and n < through else 0.0
    return _lifted(ring, lift) if lift > 0 else tuple(ring)


def _lifted(ring: list[Point], lift: float) -> tuple[Point, ...]:
    """Move the edges that face down up by ``lift``, square to themselves.

    The others stay. The corners are where the edges then meet.
    """
    if not turns_left(ring):
        ring = ring[::-1]
    lines: list[tuple[float, float, float]] = []
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        du, dw = b[0] - a[0], b[1] - a[1]
        size = (du * du + dw * dw) ** 0.5
        nu, nw = -dw / size, du / size  # into the backing plate: the ring is anticlockwise
        lines.append((nu, nw, nu * a[0] + nw * a[1] + (lift if nw > 0.5**0.5 - CLOSE else 0.0)))
    corners: list[Point] = []
    for index, (a_u, a_w, a_f) in enumerate(lines):
        b_u, b_w, b_f = lines[(index + 1) % len(lines)]
        den = a_u * b_w - a_w * b_u
        if abs(den) < 1e-9:
            corner = ring[(index + 1) % len(ring)]
            corners.append((corner[0], corner[1] + (a_f - (a_u * corner[0] + a_w * corner[1])) * a_w))
        else:
            corners.append(((a_f * b_w - a_w * b_f) / den, (a_u * b_f - a_f * b_u) / den))
    return tuple(corners)


def with_own_holes(design: Design, own: dict[tuple[int, str], OwnHole]) -> Design:
    """Return ``design`` with some bolts in their holes as drilled, by motor and name.

    As with `with_holes_off`, it is not written in a file, and a design made from this one has its holes at the plan again.
    """
    fresh = replace(design)
    placed = bolts(design)
    fresh.__dict__["bolts"] = tuple(
        Bolt(fresh, bolt.mount_index, bolt.mount, bolt.name, bolt.off, own.get((bolt.mount_index, bolt.name)))
        for bolt in placed
    )
    return fresh
