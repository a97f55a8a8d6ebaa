"""From anonymous patterns to bars with named cuts."""
