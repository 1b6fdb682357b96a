"""The SVG writer, read back as XML.

Source: W3C, Scalable Vector Graphics 1.1, 7.7 (viewBox), 8.3.8 (arcs).
"""

from __future__ import annotations

from xml.etree import ElementTree

from templates_out.drawing.marks import Arc, Circle, Hatch, Line, Page, Path, Pen, Text
from templates_out.drawing.svg import svg_text

NAMESPACE = "{http://www.w3.org/2000/svg}"
MARKS = (
    Line((10, 20), (110, 20), Pen(weight=0.35, dash=(6, 2)), "datum"),
    Circle((50, 60), 6.75, Pen(), "well", "upper port"),
    Arc((50, 60), 20, 0, 90, Pen()),
    Path(((0, 0), (10, 0), (10, 10)), True, None, "ink"),
    Hatch(((0, 0), (10, 0), (10, 10)), 45, 2, Pen()),
    Text((20, 30), "6-7/16 in < 7 & ✂", 3, bold=True, angle=90),
)
PAGE = Page(914.4, 1219.2, MARKS, "Sheet A")


def test_a_page_is_in_millimetres_with_y_turned_down():
    root = ElementTree.fromstring(svg_text(PAGE))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("914.4mm", "1219.2mm", "0 0 914.4 1219.2")
    assert root.find(f"{NAMESPACE}title").text == "Sheet A"
    circle = root.find(f"{NAMESPACE}circle")
    assert (circle.get("cx"), circle.get("cy"), circle.get("r")) == ("50", "1159.2", "6.75")
    assert (circle.get("fill"), circle.get("data-part")) == ("none", "upper port")
    line, arc = root.findall(f"{NAMESPACE}path")[:2]
    assert (line.get("d"), line.get("stroke-dasharray")) == ("M 10 1199.2 L 110 1199.2", "6 2")
    assert arc.get("d").startswith("M 70 1159.2 A 20 20 0 0 0 ")
    assert arc.get("d").endswith("50 1139.2")


def test_texts_are_real_and_colours_may_be_given():
    root = ElementTree.fromstring(svg_text(PAGE, dict.fromkeys(("ink", "well", "sheet"), "#123")))
    text = root.find(f"{NAMESPACE}text")
    assert text.text == "6-7/16 in < 7 & ✂"
    assert (text.get("transform"), text.get("font-weight")) == ("rotate(-90 20 1189.2)", "bold")
    assert root.find(f"{NAMESPACE}circle").get("fill") == "#123"


def test_the_same_page_gives_the_same_text():
    assert svg_text(PAGE) == svg_text(Page(914.4, 1219.2, MARKS, "Sheet A"))
