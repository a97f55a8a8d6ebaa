"""The demo building, all names invented."""
