"""Values of the trade, frozen and valid once built; no engine, no file format."""
