"""Pack for me: what comes along and where it rides, for all legs that are flown with one load.

`figures` reads a load as the choice that `sums.packing` writes as a program, `limits` asks the questions how
heavy the kit may be, `packing` takes the solver's columns back, asks all six again and says why a thing stays
behind.
"""

from .figures import bears
from .limits import Probe, Room, middle, room_by_answers
from .packing import begin, instead, reason, settle, take

__all__ = [
    "Probe",
    "Room",
    "bears",
    "begin",
    "instead",
    "middle",
    "reason",
    "room_by_answers",
    "settle",
    "take",
]
