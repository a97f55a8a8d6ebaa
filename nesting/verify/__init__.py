"""The auditor: replays a plan on the saw with its own arithmetic."""
