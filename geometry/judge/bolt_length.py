"""Checks of the bolt's length: does a stock length fit, and does the nut still have thread?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.design.validity import CLOSE
from geometry.judge.reporter import Outcome, Reporter, length_keys

if TYPE_CHECKING:
    from geometry.solid.placed_bolts import Bolt


def joints(report: Reporter) -> None:
    """Add the thread showing and the thread left for every bolt."""
    for bolt in report.bolts:
        _length(report, bolt)
        _shank(report, bolt)


def _none_fits(report: Reporter, bolt: Bolt) -> Outcome:
    low, high = bolt.window
    text = f"No stock length fits the {bolt.name} bolt, which needs {report.size(low)} to {report.size(high)}."
    return Outcome(None, text, "Change the washers or add a backing plate, so that a stock length fits.", "fouled")


def _length(report: Reporter, bolt: Bolt) -> None:
    pitch = bolt.thread.pitch

    def look() -> Outcome:
        grip = bolt.grip
        if bolt.exit.s <= CLOSE:  # a taper that was read wrongly leaves no wood here
            text = f"The readings leave the transom no thickness at the {bolt.name} bolt."
            return Outcome(None, text, "Measure the lower thickness again, and how far down it was taken.", "fouled")
        if bolt.length is None:
            return _none_fits(report, bolt)
        showing = bolt.length - grip - bolt.nut_height
        threads = showing / pitch
        size = report.size(bolt.length)
        if showing < -CLOSE:
            text = f"The {bolt.name} bolt of {size} ends {report.overlap(showing)} short of the nut's top."
            return Outcome(showing, text, "Use a longer bolt.")
        text = f"The {bolt.name} bolt of {size} shows {threads:.1f} threads beyond the nut."
        return Outcome(showing, text, "Use a longer bolt." if showing < 2 * pitch - CLOSE else None)

    report.add("length", bolt.at, (pitch, 2 * pitch), "mm", length_keys(bolt), (bolt.mount_index,), look)


def _shank(report: Reporter, bolt: Bolt) -> None:
    pitch = bolt.thread.pitch

    def look() -> Outcome:
        grip = bolt.grip
        if bolt.length is None:
            return _none_fits(report, bolt)
        left = grip + bolt.thread.thread_length(bolt.length) - bolt.length
        if left < -CLOSE:
            text = f"The nut of the {bolt.name} bolt runs out of thread {report.overlap(left)} too soon."
            return Outcome(left, text, "Use a shorter bolt.")
        text = f"The {bolt.name} bolt has {report.room(left)} of thread left under the nut."
        return Outcome(left, text, "Use a shorter bolt if one fits." if left < pitch - CLOSE else None)

    report.add("shank", bolt.at, (0.0, pitch), "mm", length_keys(bolt), (bolt.mount_index,), look)
