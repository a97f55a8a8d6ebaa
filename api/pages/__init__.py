"""Pages for people: every screen of the service as plain HTML."""
