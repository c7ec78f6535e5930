"""How demo documents are written down: a figure as it would be typed, a number in its unit, a time."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from ..units import si


def fig(text: str, origin: str = "book", sd: str | None = None, note: str | None = None) -> dict[str, Any]:
    """A figure with its origin, and what was typed to the letter. `sd` is a difference ("2 kg")."""
    figure: dict[str, Any] = {"value": si(text), "origin": origin, "typed": text}
    if sd is not None:
        figure["sd"] = si(sd)
    if note is not None:
        figure["note"] = note
    return figure


def measured(text: str, sd: str | None = None, note: str | None = None) -> dict[str, Any]:
    return fig(text, "measured", sd, note)


def guessed(text: str, sd: str | None = None, note: str | None = None) -> dict[str, Any]:
    return fig(text, "estimated", sd, note)


def door(width: str, height: str, face: str) -> dict[str, Any]:
    """A bay's opening in one of its sides, its lower edge at the floor."""
    opening = {"width": measured(width), "height": measured(height), "face": face}
    return opening if face == "top" else opening | {"sill": measured("0 cm")}


class Clock:
    """Times of the trip, in the offset of the clock that asked, counted from midnight by the sun up there."""

    #: longitude of the middle of the plateau [deg]
    LONGITUDE = -4.0
    #: hours by the sun between which there is light for a flight, in any month
    LIGHT = (7.3, 14.5)
    MORNING = 7.9

    def __init__(self, start: datetime, daytime: bool) -> None:
        self.start, self.daytime = start, daytime
        self._midnight = start - timedelta(hours=self._solar(start))

    @classmethod
    def starting(cls, now: datetime) -> Clock:
        """The trip starts now, or on the next morning when there is too little light left up there."""
        hour = cls._solar(now)
        if cls.LIGHT[0] <= hour <= cls.LIGHT[1]:
            return cls(now, True)
        wait = (cls.MORNING - hour) % 24.0
        return cls((now + timedelta(hours=wait)).replace(second=0, microsecond=0), False)

    @classmethod
    def _solar(cls, moment: datetime) -> float:
        """Hours since midnight by the sun up there."""
        solar = moment.astimezone(UTC) + timedelta(hours=cls.LONGITUDE / 15.0)
        return solar.hour + solar.minute / 60.0 + solar.second / 3600.0

    def at(self, day: int, hours: float) -> datetime:
        """`hours` by the sun on the day `day` days after the start, to the minute."""
        moment = self._midnight + timedelta(days=day, hours=hours)
        return moment.replace(second=0, microsecond=0)

    @staticmethod
    def after(moment: datetime, hours: float) -> datetime:
        return moment + timedelta(hours=hours)


def iso(moment: datetime) -> str:
    return moment.isoformat(timespec="seconds")
