"""The HTTP service around the library: plans, stock and offcuts that survive crashes and crowds."""
