"""The rack: every offcut with its tag."""
