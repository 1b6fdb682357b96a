"""The command `drilled`: the holes as they were drilled, next to the plan, as text or as JSON."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.commands.command import Words, checked_of
from app.ui.terminal import print_text, wrapped
from geometry.errors import OwnerError
from geometry.solid.faces import Unmeasured

if TYPE_CHECKING:
    from geometry.design.design import Design
    from geometry.drilling.as_drilled import OnHoles
    from geometry.judge.findings import Checked


def drilled(words: Words) -> int:
    """Print how far each hole is off its plan, whether the brackets go on, and every check with the holes as drilled.

    0 where every bracket goes on and nothing that stops the paper is fouled or unknown with the holes as they are, else 1.

    Raises:
        OwnerError: the file can't be read, or has no holes as drilled.
    """
    from app.document.files import read_design
    from geometry.drilling.as_drilled import check_drilled, is_drilled
    from geometry.judge.findings import is_bad

    design = read_design(Path(words.FILE))[0]
    motors = [index for index in range(len(design.mounts)) if is_drilled(design, index)]
    if not motors:
        raise OwnerError(
            f"{Path(words.FILE).name} has no holes as drilled. In section 7 of the card press Enter the holes as drilled, and "
            "type where they came out."
        )
    plan = checked_of(design)
    try:
        now = check_drilled(design)
    except Unmeasured as missing:
        raise OwnerError(f"The holes can’t be checked: measure {_name(design, missing.key)} first.") from missing
    held = {index: _held(design, index) for index in motors}
    print_text(_json(design, plan, now, held) if words.json else _text(design, plan, now, motors))
    fits = all(each is not None and each.excess <= 0.0 for each in held.values())
    return 0 if fits and not any(is_bad(finding) for finding in now.findings) else 1


def _name(design: Design, key: str) -> str:
    from geometry.readings.measures import name_of

    return name_of(design, key)


def _held(design: Design, index: int) -> OnHoles | None:
    from geometry.drilling.as_drilled import on_holes

    try:
        return on_holes(design, index)
    except Unmeasured:
        return None


def _text(design: Design, plan: Checked, now: Checked, motors: list[int]) -> str:
    from geometry.drilling.as_drilled_words import changed_findings, summary
    from geometry.judge.findings import STATE_WORDS

    lines: list[str] = []
    for index in motors:
        lines += [wrapped(f"{design.mounts[index].name}, as drilled:"), ""]
        lines += [wrapped(line) for line in summary(design, index)]
        lines.append("")
    lines.append(wrapped(f"All checks: {STATE_WORDS[plan.verdict]} as planned, {STATE_WORDS[now.verdict]} as drilled."))
    changed = changed_findings(plan)
    lines += [wrapped(line, "  ") for line in changed or ("No check is worse with the holes as drilled.",)]
    return "\n".join(lines)


def _json(design: Design, plan: Checked, now: Checked, held: dict[int, OnHoles | None]) -> str:
    from app.commands.reports import check_json
    from geometry.drilling.as_drilled import off_plan
    from geometry.readings.drilled_readings import drilled_of

    holes = [
        {
            "mount": design.mounts[index].name, "hole": off.name, "outer_off": off.outer, "inner_off": off.inner,
            "lean": off.lean, "how": None if (read := drilled_of(design, index, off.name)) is None else read.how,
        }
        for index in held for off in off_plan(design, index)
    ]  # fmt: skip
    brackets = [
        {
            "mount": design.mounts[index].name, "excess": None if each is None else each.excess,
            "chance": None if each is None else each.chance,
            "easings": [] if each is None else [
                {"hole": easing.name, "by": easing.by, "towards": [easing.across, easing.up], "kind": easing.kind}
                for easing in each.easings
            ],
        }
        for index, each in held.items()
    ]  # fmt: skip
    checks = {"planned": json.loads(check_json(plan)), "as_drilled": json.loads(check_json(now))}
    whole = {"name": design.name, "holes": holes, "brackets": brackets, **checks}
    return json.dumps(_rounded(whole), indent=2, allow_nan=False)


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 6) + 0.0
    if isinstance(value, list | tuple):
        return [_rounded(each) for each in value]
    return {key: _rounded(each) for key, each in value.items()} if isinstance(value, dict) else value
