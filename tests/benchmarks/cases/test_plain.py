"""Folders of plain text files."""

from pathlib import Path

from benchmarks.cases.plain import TINY_BIN_PACKING, TINY_CUTTING_STOCK
from benchmarks.registry import case_classes


def test_a_folder_of_text_files_is_a_class(tmp_path: Path) -> None:
    """Downloaded sets run as they are, whichever of the two forms they come in."""
    (tmp_path / "b.txt").write_text(TINY_BIN_PACKING, "utf-8")
    (tmp_path / "a.txt").write_text(TINY_CUTTING_STOCK, "utf-8")
    (tmp_path / "readme.md").write_text("not an instance", "utf-8")
    cases = case_classes()["plain"].load(tmp_path)
    assert [case.name for case in cases] == ["a", "b"]
    assert cases[0].problem.lengths == cases[1].problem.lengths == (6, 5, 4)
