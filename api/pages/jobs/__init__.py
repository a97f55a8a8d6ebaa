"""Jobs across all their plans, for those who have promised them."""
