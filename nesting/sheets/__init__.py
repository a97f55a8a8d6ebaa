"""Workbooks and CSV: reading with cell-level findings, writing."""
