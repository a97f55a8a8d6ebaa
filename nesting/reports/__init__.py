"""Tables and drawings of a plan."""
