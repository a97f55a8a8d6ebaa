"""When a search ends, as values that say why."""
