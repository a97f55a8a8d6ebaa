"""Arguments to library calls to exit code."""
