"""Whether the service lives, can work, and how it is doing."""
