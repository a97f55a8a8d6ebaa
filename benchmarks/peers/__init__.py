"""
Other general methods beside ours on the same groups, each as its textbook gives it.

Peers take any number of bar kinds without limit of supply, kerf and trims included, and one thread.
Their engines are imported where they are called: a fresh process then holds the memory of one method alone.
"""
