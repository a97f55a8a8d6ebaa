"""The screen at the saw: one bar at a time, ticked off on a tablet, reported once."""
