"""Many materials at once: split, solve in processes, gather."""
