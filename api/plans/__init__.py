"""Plans: from the request to the last bar."""
