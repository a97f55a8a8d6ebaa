"""What people read: the answer in words, tables, pictures of bars; pure functions of a plan."""
