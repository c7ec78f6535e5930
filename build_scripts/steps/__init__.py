"""The steps that `start.py`, `test.py` and `bench.py` are made of; they need the standard library only."""
