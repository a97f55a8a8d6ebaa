"""Customer jobs across plans."""
