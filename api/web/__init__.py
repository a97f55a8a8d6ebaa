"""What every answer over HTTP has in common."""
