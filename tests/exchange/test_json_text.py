"""Text becomes JSON values and back with no digit, key or letter lost unseen."""

from __future__ import annotations

from decimal import Decimal

import pytest

from nesting.errors import InputRefused
from nesting.exchange.json_text import pointer, read_tree, write_tree


def test_pointer_escapes_what_the_standard_escapes() -> None:
    """The check values are those of RFC 6901, section 5."""
    assert pointer("a/b") == "/a~1b"
    assert pointer("m~n") == "/m~0n"
    assert pointer("runs", 3, "length") == "/runs/3/length"
    assert pointer() == ""


def test_numbers_are_never_floats() -> None:
    """0.1 has no exact float; its decimal is exact."""
    tree, findings = read_tree("[0.1, 2.0, 1e2, 7, 0e999999999, 12345678901234567890123]", "request")
    assert tree == [Decimal("0.1"), 2, 100, 7, 0, 12345678901234567890123]
    assert not any(isinstance(value, float) for value in tree)
    assert findings == []


def test_numbers_out_of_all_range_are_refused() -> None:
    """A number of a billion digits would fill the memory before anybody read it."""
    for text in ("1e999999999", "1e-999999999", "1e99999999999999999999", "9" * 10_000):
        with pytest.raises(InputRefused):
            read_tree(text, "request")


def test_twice_given_keys_are_placed() -> None:
    """The pointer leads to the key, however deep it is."""
    _, findings = read_tree('{"runs": [{"a": 1}, {"a": 1, "b": 2, "a": 3}]}', "request")
    assert [f.where.at for f in findings] == ["/runs/1/a"]


def test_half_letters_are_placed() -> None:
    """They could be read but never written again."""
    _, findings = read_tree('{"runs": ["\\ud800"], "\\udfff": 1}', "request")
    assert [(f.code, f.where.at) for f in findings] == [("not-a-text", "/runs/0"), ("not-a-text", "")]


def test_not_json_says_where() -> None:
    """Line and column, as an editor counts them."""
    with pytest.raises(InputRefused) as why:
        read_tree('{\n "a": }', "order.json")
    assert str(why.value.findings[0].where) == "order.json!line 2, column 7"


def test_written_text_is_plain_json() -> None:
    """No names for numbers that are none."""
    assert write_tree({"a": "ß", "b": [1]}) == '{\n "a": "ß",\n "b": [\n  1\n ]\n}\n'
    with pytest.raises(ValueError, match="not JSON compliant"):
        write_tree(float("nan"))
