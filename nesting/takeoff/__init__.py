"""From a run to its pieces: the formulas of the trade, one each."""
