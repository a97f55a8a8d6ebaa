"""Lower bounds on cost and bars, with their proofs in the docstrings."""
