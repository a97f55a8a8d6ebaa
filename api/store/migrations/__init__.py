"""Every shape the database has had, in order."""
