"""The rack and the bars on hand, for those who look after them."""
