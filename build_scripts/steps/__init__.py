"""The steps that `start.py`, `test.py` and `bench.py` are made of. All but `icons` need the standard library only."""
