"""What holds while a search runs: an early answer, limits kept, a stop heard, one plan a seed."""
