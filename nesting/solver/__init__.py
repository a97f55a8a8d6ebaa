"""Least bars for one material group, with a proven bound."""
