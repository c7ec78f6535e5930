"""Recorded tracks: from fixes, where an aeroplane began to roll, lifted off, touched down and stopped.

These are estimators over whole sequences of fixes, no relations of single quantities, so they are not in the
register. Pure NumPy; SI; times in seconds from any origin; lengths in metres along and across the run. Every
figure comes with a standard error. What can't be told comes as an id of a reason, never as a guess.
"""
