"""``python -m nesting``."""

from nesting.cli import main

main()
