"""The screen of one plan: what to order, how good that is, how each bar is cut, and what may be done."""
