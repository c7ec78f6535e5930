"""Checks of the core against itself that are too long for a test, run from the command line."""
