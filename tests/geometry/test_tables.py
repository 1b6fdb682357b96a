"""The tables hang together: every bolt has all that a stack needs, and what is not there is said in one sentence."""

from collections.abc import Callable

import pytest

from geometry.errors import OwnerError
from geometry.tables.fasteners import bolt, bolt_names, clearance_holes, grade, grade_names, nut, nut_names, washers
from geometry.tables.materials import core, core_names
from geometry.tables.papers import paper, paper_names

HOW_WELL = ("secondary cop", "from memory", "common practice", "handbook", "our assumption", "nobody can say")


@pytest.mark.parametrize("name", bolt_names())
def test_every_bolt_has_nuts_washers_and_holes_that_fit_it(name: str) -> None:
    row = bolt(name)
    assert row.name == name
    assert nut_names(name)
    for nut_name in nut_names(name):
        made = nut(nut_name, name)
        assert (made.name, made.bolt) == (nut_name, name)
        assert row.diameter < made.flats < made.corners
    for washer in washers(name):
        assert row.diameter < washer.inner < washer.outer
        assert washer.nominal_thickness <= washer.thickness
    holes = clearance_holes(name)
    assert row.diameter < holes.close < holes.normal < holes.loose
    assert list(row.stock_lengths()) == sorted(set(row.stock_lengths()))


@pytest.mark.parametrize("name", bolt_names())
def test_every_row_for_a_bolt_says_how_well_it_is_known(name: str) -> None:
    sources = [
        bolt(name).source,
        clearance_holes(name).source,
        *(nut(nut_name, name).source for nut_name in nut_names(name)),
        *(washer.source for washer in washers(name)),
    ]
    assert [source for source in sources if not any(words in source for words in HOW_WELL)] == []


def test_every_other_row_says_how_well_it_is_known() -> None:
    sources = [
        *(grade(name).source for name in grade_names()),
        *(core(name).source for name in core_names()),
        *(paper(name).source for name in paper_names()),
    ]
    assert [source for source in sources if not any(words in source for words in HOW_WELL)] == []


@pytest.mark.parametrize(
    ("ask", "names"),
    [
        (lambda: bolt("1/2-12"), ("1/2-12", "1/2-13", "M12x1.75")),
        (lambda: nut("ISO 7040", "1/2-13"), ("ISO 7040", "1/2-13", "ASME B18.16.6 NE")),
        (lambda: nut("ISO 7040", "M11"), ("M11", "M12x1.75")),
        (lambda: nut("wing", "M12x1.75"), ("wing", "ISO 7040")),
        (lambda: nut_names("M11"), ("M11", "M12x1.75")),
        (lambda: washers("M11"), ("M11", "M12x1.75")),
        (lambda: clearance_holes("M11"), ("M11", "M12x1.75")),
        (lambda: grade("A4"), ("A4", "A4-70", "F593G")),
        (lambda: core("cheese"), ("cheese", "fir plywood")),
        (lambda: paper("a5"), ("a5", "letter", "roll36")),
    ],
)
def test_what_is_not_there_is_named_with_what_is(ask: Callable[[], object], names: tuple[str, ...]) -> None:
    with pytest.raises(OwnerError) as caught:
        ask()
    assert [name for name in names if name not in str(caught.value)] == []


def test_papers_are_found_in_any_case() -> None:
    assert paper("A4") is paper("a4")
    assert paper("Letter") is paper("letter")
