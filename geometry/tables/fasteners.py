"""All that is published of fasteners, in one place to import from."""

from geometry.tables.bolts import Bolt, bolt, bolt_names
from geometry.tables.grades import Grade, grade, grade_names
from geometry.tables.nuts import Nut, nut, nut_names
from geometry.tables.washers import FlatWasher, washers

__all__ = [
    "Bolt",
    "FlatWasher",
    "Grade",
    "Nut",
    "bolt",
    "bolt_names",
    "grade",
    "grade_names",
    "nut",
    "nut_names",
    "washers",
]
