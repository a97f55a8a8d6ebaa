"""Circumstances of a measurement."""

from pathlib import Path

import pytest

from benchmarks import machine


def test_the_revision_names_the_code_measured() -> None:
    """A row without its revision cannot be compared with the next release's."""
    assert machine.revision().rstrip("+").isalnum()


def test_no_repository_is_an_unknown_revision(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Benchmarks also run from an unpacked archive."""
    monkeypatch.setattr(machine, "_ROOT", tmp_path)
    assert machine.revision() == "unknown"


def test_processor_load_and_memory_are_stated() -> None:
    """Seconds mean nothing without the machine they were measured on."""
    machine.forget_peak_memory()
    assert " x" in machine.processor()
    assert machine.load() >= 0
    assert machine.peak_memory() > 0
