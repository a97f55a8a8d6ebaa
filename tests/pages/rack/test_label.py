"""The label of an offcut."""

from __future__ import annotations

import re

from api.pages.rack.label import label_of
from api.pages.rack.one import show_offcut
from nesting.paper.codes import code_rows
from nesting.reports.lengths import BothUnits
from tests.pages.live import Site


def test_the_label_says_what_the_rack_says_and_its_code_the_tag(site: Site) -> None:
    """Strips of the drawing, laid out again, are the modules of the code of the tag."""
    with site.store.read() as session:
        label = label_of(show_offcut(session, "FL-407", BothUnits(), site.store.now(session)))
    assert (label.tag, label.length) == ("FL-407", "1822\N{NO-BREAK SPACE}mm")
    assert label.what == "TOLV-17N natural channel"
    assert label.where == "rack B, shelf 3"
    assert label.born.startswith("on the rack since ")
    drawn = [bytearray(label.side) for _ in range(label.side)]
    for x, y, wide in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\3z", label.code):
        for step in range(int(wide)):
            drawn[int(y)][int(x) + step] = 1
    assert tuple(bytes(row) for row in drawn) == code_rows("FL-407")
