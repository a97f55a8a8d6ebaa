"""
Other general methods beside ours on the same groups, each as its textbook gives it.

Peers take any number of bar kinds without limit of supply, kerf and trims included, and one thread.
"""
