"""Where the service keeps things: one database, SQLite or PostgreSQL."""
