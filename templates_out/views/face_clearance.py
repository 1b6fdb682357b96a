"""The smallest clearance as a figure on the face: on a leader where it is an overlap, else between washer and land."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from geometry.judge.findings import Finding
from geometry.solid.placed_bolts import Bolt, bolts
from geometry.solid.section import Line as SectionLine
from geometry.solid.well import space
from geometry.units.units import format_clearance
from templates_out.drawing.marks import Pen, Role
from templates_out.views.dimensions import Figure, Placed, Sheet, extension, leader, next_to, on_paper, with_lines
from templates_out.views.face_bolts import BODIES, overlap_rings
from templates_out.views.view_focus import Scene, ground_at, in_hand


def smallest(scene: Scene) -> Finding | None:
    """Return the finding with the smallest clearance inside, over the bolts of the motor in hand."""
    candidates = [
        finding for finding in scene.checked.findings
        if finding.check in BODIES and finding.value is not None and (not finding.mounts or scene.focus.mount in finding.mounts)
    ]  # fmt: skip
    return min(candidates, key=lambda finding: (finding.state != "fouled", finding.value), default=None)


def clearance_figure(scene: Scene, sheet: Sheet) -> Iterator[Placed]:
    """The smallest clearance: on a leader where it is an overlap, else between washer and land."""
    finding = smallest(scene)
    if finding is None or finding.value is None:
        return
    name = finding.at.split(" / ")[1]
    plate = finding.at.endswith("/ plate")
    bolt = in_hand(scene, f"{name} port" if plate else name)
    fouled = finding.state == "fouled"
    text = on_paper(format_clearance(finding.value, scene.design.units), scene.style)
    size = scene.figure_size * (1.25 if fouled else 1.0)
    role: Role = "fouled" if fouled else "ink"
    part = f"finding:{finding.check}:{finding.at}"
    if finding.check == "washer" and not plate and not fouled:
        yield from _gap(scene, bolt, finding.value, Figure(text, part, size, False, role, True, scene.narrow, "well"))
    body = None if plate else bolt.body(finding.check)
    target = scene.at(bolt.u, bolt.exit.v - (body.shape.radius if body else 0.0))
    rings = list(overlap_rings(scene, bolt, bolts(scene.boat))) if fouled else []
    if rings:
        corners = [scene.at(*at) for at in rings[0][1]]
        target = sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)
    out = -1.0 if bolt.port else 1.0
    for dx, dy in ((16, -12), (20, -8), (14, -18), (22, -16), (26, -4), (12, -26), (-16, -14), (24, 12), (30, -24)):
        away = target[0] + out * dx, target[1] + dy
        figure = Figure(text, part, size, False, role, True, scene.narrow, ground_at(scene, away))
        yield leader(target, (out * dx, dy), figure, Pen(role, 0.25))


def _gap(scene: Scene, bolt: Bolt, value: float, figure: Figure) -> Iterator[Placed]:
    """An upright clearance between the washer's foot and the land, next to it; nothing where it is not upright."""
    section = space(scene.boat).section(0.0)
    at = bolt.exit.u, bolt.exit.w
    disc = bolt.washer_disc

    def room(line: SectionLine) -> float:
        return line.over(at) - disc.reach(-line.normal_u, -line.normal_w)

    nearest = min(section.lines, key=room, default=None)
    if nearest is None or nearest.normal_w < 0.9 or abs(room(nearest) - value) > 0.01:
        return
    cosine, scale = bolt.faces.cos_taper, scene.view.scale
    foot = scene.at(at[0], (at[1] - min(disc.radius, disc.cut)) * cosine)
    land = scene.at(at[0], (at[1] - nearest.over(at)) * cosine)
    side = -1.0 if bolt.port else 1.0
    pen = Pen("ink", 0.25)
    for off, up in ((3.0, 0.0), (3.0, 1.5), (3.0, 3.0), (8.0, 1.5), (14.0, 0.0), (14.0, 1.5), (20.0, 1.5), (-3.0, 1.5)):
        x = foot[0] + side * (disc.radius * scale + abs(off)) * (1 if off > 0 else -1)
        placed = next_to((x, land[1]), (x, foot[1]), figure, pen, 1.0 if x > foot[0] else -1.0)
        placed = replace(placed, centre=(placed.centre[0], placed.centre[1] + up))
        yield with_lines(placed, extension(foot, (x, foot[1]), figure.part))
