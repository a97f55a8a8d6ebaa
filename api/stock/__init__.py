"""Shelves: whole bars, one shelf for each stock length."""
