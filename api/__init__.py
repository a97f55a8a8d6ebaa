"""HTTP service around the nesting library."""
