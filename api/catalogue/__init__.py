"""Families, stock and rack as one thing: lent to requests, read from and written to workbooks."""
