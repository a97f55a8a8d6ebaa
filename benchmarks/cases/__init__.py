"""Modules of case classes; each offers ``CLASSES``."""
