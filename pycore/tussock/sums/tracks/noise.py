"""How wrong a phone's fixes are: an error that wanders slowly, and a little that is new with every fix."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Noise:
    """Standard deviations of a receiver's errors [m, m/s] and how long they last [s].

    Common practice, no source: a phone is 3 to 5 m out, much the same from one second to the next; its speed,
    from the Doppler shift, is good to some 0.2 m/s; its height is about twice as bad as its position.
    """

    position: float = 4.0
    position_time: float = 60.0
    position_new: float = 0.7
    speed: float = 0.15
    speed_time: float = 2.0
    speed_new: float = 0.15
    height: float = 6.0
    height_time: float = 60.0
    height_new: float = 0.8

    def scaled(self, factor: float) -> Noise:
        """The same receiver with positions and heights so much worse (or better) than usual."""
        return Noise(
            self.position * factor,
            self.position_time,
            self.position_new * factor,
            self.speed,
            self.speed_time,
            self.speed_new,
            self.height * factor,
            self.height_time,
            self.height_new * factor,
        )

    def speed_apart(self, step: float) -> float:
        """Standard deviation [m/s] of errors new with every fix, `step` [s] apart, that do as much harm."""
        kept = float(np.exp(-max(step, 0.1) / self.speed_time))
        return float(np.sqrt(self.speed_new**2 + self.speed**2 * (1 + kept) / (1 - kept)))

    def drift(self, seconds: float) -> float:
        """Standard deviation [m] of the difference of two positions so many seconds apart."""
        return float(
            np.sqrt(
                2 * self.position**2 * (1 - np.exp(-abs(seconds) / self.position_time))
                + 2 * self.position_new**2
            )
        )

    def height_drift(self, seconds: float) -> float:
        """The same of two heights [m]."""
        return float(
            np.sqrt(
                2 * self.height**2 * (1 - np.exp(-abs(seconds) / self.height_time)) + 2 * self.height_new**2
            )
        )


def covariance(times: Array, sd: float, time: float, new: float) -> Array:
    """Covariance [unit²] of errors at `times` [s]: wandering with `sd` for `time` [s], and `new` ones."""
    apart = np.abs(times[:, None] - times[None, :])
    return np.asarray(sd**2 * np.exp(-apart / time) + new**2 * np.eye(len(times)))
