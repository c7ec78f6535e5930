"""Tracks with known truth: an aeroplane flown by simple physics, and a phone that watches it.

The physics are the closed ones of a take-off (force less friction and drag), not those of the estimator; the
receiver's errors wander (Gauss-Markov), its speed has a lag, fixes are dropped and times jitter.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
G0 = 9.80665
DT = 0.05


@dataclass(frozen=True)
class Plane:
    """An aeroplane's speeds [m/s, true], forces over mass [m/s²] and the pilot's ways [s]."""

    lift_off: float = 22.0
    climb: float = 27.0
    thrust: float = 2.9
    fade: float = 0.03  # thrust lost by speed [1/s]
    friction: float = 0.35  # of the wheels, gone in proportion to lift
    drag: float = 0.0009
    rotated: float = 0.35  # induced drag once rotated
    hold: float = 0.0  # time level above the ground before the climb
    soft: float = 1.2
    touch: float = 21.0
    brake: float = 2.8
    float_time: float = 2.5
    bounce: float = 0.0  # time in the air after the first touch
    sink: float = 2.2


@dataclass
class Truth:
    """The flight as it was: times [s], along [m], height [m], ground speed [m/s]; figures of each run."""

    times: Array
    along: Array
    across: Array
    height: Array
    speed: Array
    runs: list[dict[str, float]] = field(default_factory=list)


class _Flight:
    def __init__(self, plane: Plane, wind: float) -> None:
        self.plane, self.wind = plane, wind
        self.t, self.x, self.h, self.v = 0.0, 0.0, 0.0, 0.0
        self.rows: list[tuple[float, float, float, float]] = []
        self.runs: list[dict[str, float]] = []

    def step(self, a: float, rate: float = 0.0) -> None:
        self.rows.append((self.t, self.x, self.h, self.v))
        self.x += self.v * DT + a * DT * DT / 2.0
        self.v = max(self.v + a * DT, 0.0)
        self.h += rate * DT
        self.t += DT

    def stand(self, seconds: float) -> None:
        for _ in range(round(seconds / DT)):
            self.step(0.0)

    def excess(self, airspeed: float, airborne: bool) -> float:
        """Specific excess thrust [m/s²]."""
        p = self.plane
        lift = min((airspeed / p.lift_off) ** 2, 1.0)
        resist = p.rotated if airborne else p.friction * (1.0 - lift)
        return p.thrust - p.fade * airspeed - p.drag * airspeed**2 - resist

    def take_off(self, climb_for: float) -> None:
        p, began, start = self.plane, self.t, self.x
        while self.v + self.wind < p.lift_off:
            self.step(self.excess(self.v + self.wind, False))
        self.runs.append({"what": 0, "start": began, "at": self.t, "roll": self.x - start, "speed": self.v})
        run, left, over, rate = self.runs[-1], self.t, None, 0.0
        while self.t < left + climb_for:
            airspeed = self.v + self.wind
            excess = self.excess(airspeed, True)
            wanted = 0.0
            if self.t > left + p.hold:
                # what is left of the power after the speed is brought to that of the climb
                wanted = max(airspeed * (excess - 0.12 * (p.climb - airspeed)) / G0, 0.0)
            rate += (wanted - rate) * DT / p.soft
            self.step(excess - G0 * rate / airspeed, rate)
            if over is None and self.h >= 15.24:
                over = self.x - start
                run["over"] = over
        run["rate"] = rate

    def cruise(self, seconds: float, rate: float = 0.0) -> None:
        for _ in range(round(seconds / DT)):
            self.step(0.3 * (self.plane.climb - self.v - self.wind), rate)

    def descend_to(self, height: float) -> None:
        while self.h > height:
            self.step(0.3 * (self.plane.touch * 1.2 - self.v - self.wind), -self.plane.sink)

    def land(self) -> None:
        p = self.plane
        self.descend_to(4.0)
        rate = -p.sink
        while self.h > 0.05 and rate < -0.1:  # the flare
            rate = -max(0.35, p.sink * self.h / 4.0)
            self.step(-0.5, rate)
        self.h = 0.0
        until = self.t + p.float_time
        while self.t < until or self.v + self.wind > p.touch * 1.06:
            self.step(-0.8)
        first, x_first, v_first = self.t, self.x, self.v
        if p.bounce:
            self.step(-1.0)
            for k in range(round(p.bounce / DT)):
                share = k * DT / p.bounce
                self.step(-0.5, 4.0 * (1.0 - 2.0 * share) * 0.5)
            self.h = 0.0
        second, x_second = self.t, self.x
        while self.v > 0.0:
            airspeed = self.v + self.wind
            self.step(-(p.brake * (1 - 0.5 * min((airspeed / p.touch) ** 2, 1)) + p.drag * airspeed**2))
        self.runs.append(
            {
                "what": 1,
                "at": first,
                "again": second,
                "roll": self.x - x_first,
                "roll_last": self.x - x_second,
                "speed": v_first,
                "end": self.t,
            }
        )

    def truth(self) -> Truth:
        rows = np.array(self.rows)
        across = 1.5 * np.sin(rows[:, 1] / 90.0)
        return Truth(rows[:, 0], rows[:, 1], across, rows[:, 2], rows[:, 3], self.runs)


def circuit(plane: Plane | None = None, wind: float = 0.0, go_around: bool = False) -> Truth:
    """Stand, take off, climb, descend (and go around once), land, stand. `wind`: a headwind [m/s]."""
    flight = _Flight(plane or Plane(), wind)
    flight.stand(25.0)
    flight.take_off(70.0)
    flight.cruise(40.0)
    if go_around:
        flight.descend_to(6.0)
        flight.cruise(8.0)
        flight.cruise(50.0, 2.5)
    flight.land()
    flight.stand(20.0)
    return flight.truth()


def wander(rng: np.random.Generator, times: Array, sd: float, lasting: float) -> Array:
    """A Gauss-Markov error at `times`."""
    out = np.empty(len(times))
    out[0] = rng.normal(0, sd)
    for k in range(1, len(times)):
        kept = np.exp(-(times[k] - times[k - 1]) / lasting)
        out[k] = kept * out[k - 1] + rng.normal(0, sd * np.sqrt(1 - kept**2))
    return out


@dataclass(frozen=True)
class Phone:
    """A receiver: time between fixes [s], errors [m, m/s], share of fixes dropped, what it tells."""

    every: float = 1.0
    position: float = 4.0
    lasting: float = 50.0
    new: float = 0.6
    speed: float = 0.2
    lag: float = 0.3
    height: float = 6.0
    dropped: float = 0.05
    tells_speed: bool = True
    tells_height: bool = True
    bearing: float = 1.4


def watch(truth: Truth, phone: Phone, seed: int) -> dict[str, Array]:
    """Fixes as arrays: time, east, north, height, speed; nan for what the receiver does not tell."""
    rng = np.random.default_rng(seed)
    times = np.arange(truth.times[0] + rng.uniform(0, phone.every), truth.times[-1], phone.every)
    times = times + rng.normal(0, 0.02, len(times))
    times = times[rng.uniform(size=len(times)) > phone.dropped]
    seen = np.clip(times - phone.lag, 0.0, None)
    along, across, height, speed = (
        np.interp(seen, truth.times, part) for part in (truth.along, truth.across, truth.height, truth.speed)
    )
    sine, cosine = np.sin(phone.bearing), np.cos(phone.bearing)

    def noisy(sd: float) -> Array:
        return wander(rng, times, sd, phone.lasting) + rng.normal(0, phone.new, len(times))

    doppler = np.abs(
        speed + wander(rng, times, phone.speed * 0.7, 2.0) + rng.normal(0, phone.speed * 0.7, len(times))
    )
    nothing = np.full(len(times), np.nan)
    return {
        "times": times,
        "east": along * sine + across * cosine + noisy(phone.position),
        "north": along * cosine - across * sine + noisy(phone.position),
        "height": 900.0 + height + noisy(phone.height) if phone.tells_height else nothing,
        "speed": np.where(doppler < 0.4, 0.0, doppler) if phone.tells_speed else nothing,
    }
