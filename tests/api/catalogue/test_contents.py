"""What the service lends to a request: only what is left out, only what is used, nothing rewritten."""

import json

from api.catalogue.contents import Contents, lend
from nesting.domain.material import Family
from nesting.domain.stock import Offcut, StockLine
from nesting.units import mm

HAVE = Contents(
    families=(Family(name="TOLV"), Family(name="SARN")),
    stock=(StockLine(family="TOLV", length=mm(2500)), StockLine(family="SARN", length=mm(3500))),
    offcuts=(Offcut(tag="FL-1", family="TOLV", length=mm(1300)),),
)
RUN = '"runs": [{"family": "TOLV", "length": 0.10000000000000000001}]'


def test_what_is_left_out_is_lent_for_the_families_named() -> None:
    """The other family's bars stay out, and the text's own digits stay as they are."""
    text = lend("{" + RUN + "}", HAVE)
    tree = json.loads(text)
    assert [family["name"] for family in tree["families"]] == ["TOLV"]
    assert [line["length_nm"] for line in tree["stock"]] == [2_500_000_000]
    assert [offcut["tag"] for offcut in tree["offcuts"]] == ["FL-1"]
    assert RUN in text


def test_what_the_request_says_itself_stands() -> None:
    """An empty list of offcuts means none, not ours."""
    tree = json.loads(lend('{"offcuts": [], "stock": [], ' + RUN + "}", HAVE))
    assert (tree["offcuts"], tree["stock"]) == ([], [])
    assert len(tree["families"]) == 1


def test_what_is_no_object_is_left_to_the_reader() -> None:
    """Refusing it is not this function's business."""
    for text in ("[1]", "{", "{}", "[" * 100_000, '{"runs": 7}', '{"runs": [3]}'):
        assert lend(text, HAVE) == text
