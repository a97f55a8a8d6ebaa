"""The catalogue's channel families."""
