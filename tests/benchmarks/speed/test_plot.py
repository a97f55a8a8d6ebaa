"""The plot drawn with text alone."""

from xml.etree import ElementTree

from benchmarks.speed.plot import scale_plot
from benchmarks.speed.scale import AXES
from tests.benchmarks.speed.test_scale import POINTS

SVG = "{http://www.w3.org/2000/svg}"


def test_every_point_has_a_mark_with_its_figures() -> None:
    """Two points on each of the panels; the larger one is open and therefore hollow."""
    root = ElementTree.fromstring(scale_plot(POINTS))
    panels = root.findall(f"{SVG}g")
    assert len(panels) == len(AXES)
    for panel in panels:
        marks = panel.findall(f"{SVG}circle")
        assert [mark.get("fill") for mark in marks] == ["#345", "white"]
        assert marks[0].find(f"{SVG}title").text == "10: 0.1 s, 5 bars, bound 5, x"  # type: ignore[union-attr]
        # Ten times the seconds lies higher on the page.
        assert float(marks[1].get("cy", "0")) < float(marks[0].get("cy", "0"))


def test_no_points_still_give_a_page() -> None:
    """A run that was broken off leaves an empty plot, not an error."""
    assert len(ElementTree.fromstring(scale_plot(())).findall(f"{SVG}g")) == len(AXES)
