"""Torques, forces, pressures and powers as a person writes them.

Units: NIST SP 811, appendix B.8: 1 lbf ft = 1.3558179 N m, 1 lbf = 4.4482216 N, 1000 psi = 6.894757 N/mm2, 1 hp (550 ft
lbf/s) = 745.69987 W. Within 1e-6 of the figure.
"""

from __future__ import annotations

import pytest

from geometry.units.force_units import KINDS, ForceError, read, step, written


@pytest.mark.parametrize(
    ("kind", "text", "unit", "value"),
    [
        ("torque", "30", "in", 40.6745384), ("torque", "40.5", "mm", 40.5), ("torque", "30 lb-ft", "mm", 40.6745384),
        ("torque", "30 ft.lbf", "mm", 40.6745384), ("torque", "360 in-lb", "mm", 40.6745384), ("torque", "40,5 Nm", "in", 40.5),
        ("torque", "40.5 N·m", "in", 40.5), ("force", "800", "in", 3558.5772922), ("force", "3.6 kN", "in", 3600.0),
        ("force", "900 N", "mm", 900.0), ("pressure", "1500", "in", 10.3421355), ("pressure", "1500 lbf/in²", "mm", 10.3421355),
        ("pressure", "10.5 N/mm²", "in", 10.5), ("pressure", "10.5 MPa", "in", 10.5), ("power", "40", "in", 29.8279949),
        ("power", "40 HP", "mm", 29.8279949), ("power", "30 kW", "in", 30.0), ("number", "0.14", "in", 0.14),
        ("number", ".2", "mm", 0.2), ("torque", "30 ft-lbs", "mm", 40.6745384), ("torque", "30 ft lbs", "mm", 40.6745384),
        ("torque", "30 ft lb", "mm", 40.6745384), ("torque", "30 lbs-ft", "mm", 40.6745384),
        ("torque", "360 in-lbs", "mm", 40.6745384), ("torque", "360 in lbs.", "mm", 40.6745384),
        ("force", "800 lbs", "mm", 3558.5772922), ("force", "800 lb", "mm", 3558.5772922),
    ],
)  # fmt: skip
def test_read(kind, text, unit, value):
    assert read(kind, text, unit) == pytest.approx(value, abs=1e-6)


@pytest.mark.parametrize(
    ("kind", "text"),
    [("torque", ""), ("torque", "tight"), ("torque", "-3"), ("torque", "1,500"), ("torque", "1.2.3"), ("power", "40 lbs"),
     ("torque", "30 lbs"), ("force", "800 lbss"),
     ("number", "3 hp"), ("force", "1e3"), ("pressure", "nan"), ("force", "9" * 400)],
)  # fmt: skip
def test_what_does_not_read_is_refused_with_an_example(kind, text):
    with pytest.raises(ForceError) as refused:
        read(kind, text, "in")
    assert kind in str(refused.value)
    assert "Write it like" in str(refused.value)


@pytest.mark.parametrize(
    ("kind", "value", "inch", "metric"),
    [
        ("torque", 40.5, "30 lb-ft", "40.5 N·m"), ("force", 26715.0, "6010 lbf", "26.7 kN"),
        ("pressure", 10.5, "1520 psi", "10.5 N/mm²"), ("pressure", 5.0, "730 psi", "5 N/mm²"),
        ("power", 29.8, "40 hp", "29.8 kW"), ("power", 7.35, "9.9 hp", "7.3 kW"), ("number", 0.14, "0.14", "0.14"),
    ],
)  # fmt: skip
def test_written(kind, value, inch, metric):
    assert written(kind, value, "in") == inch
    assert written(kind, value, "mm") == metric


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_what_is_written_reads_back(kind, unit):
    """Within what it is rounded to."""
    for value in (0.5, 12.0, 40.5, 3000.0):
        again = read(kind, written(kind, value, unit), unit)
        assert written(kind, again, unit) == written(kind, value, unit)
        assert step(kind, value, unit) > 0
