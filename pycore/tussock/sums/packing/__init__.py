"""The choice of what comes along and where it rides, as a mixed-integer program on plain arrays.

`choice` holds the figures, `pieces` turns an envelope into straight limits, `model` writes the program as
text for the solver and reads what comes back. Nothing here solves: the same text goes to a solver wherever it
runs.
"""
