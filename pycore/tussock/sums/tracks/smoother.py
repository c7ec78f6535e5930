"""A Kalman filter and Rauch-Tung-Striebel smoother for fixes at any times, several axes at once.

State of an axis: distance, speed, acceleration [m, m/s, m/s²], the receiver's wandering position error [m], a
Gauss-Markov process, and the constant origin of the receiver's coordinates [m]. The acceleration is driven by
white jerk. Measured are position (distance, error and origin together) and speed, either of which may be nan.
Distances count from the first node, which is at zero by definition: the standard error of a later distance is
that of the length run from there.
Sources: Bar-Shalom, Li, Kirubarajan, Estimation with Applications to Tracking and Navigation (2001), 6.2.3
(the model), 8.6 (fixed-interval smoothing); memory.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .noise import Array

#: White jerk [m²/s⁵]: a wheel brake or a lift-off changes the acceleration by about 1 m/s² in a second.
JERK = 0.6
#: An innovation beyond this many standard deviations is a wild fix and is not counted.
WILD = 5.0


@dataclass(frozen=True)
class Smoothed:
    """State (axes, nodes, 5), its covariance (axes, nodes, 5, 5), and how many readings were left out."""

    times: Array
    state: Array
    covariance: Array
    wild: int

    @property
    def distance(self) -> Array:
        return self.state[..., 0]

    @property
    def speed(self) -> Array:
        return self.state[..., 1]

    def sd(self, part: int) -> Array:
        """Standard error by axis and node; `part` 0 distance, 1 speed, 2 acceleration."""
        return np.asarray(np.sqrt(np.maximum(self.covariance[..., part, part], 0.0)))


def _step(dt: float, time: float) -> Array:
    """Transition matrix over `dt` [s] with a position error that lasts `time` [s]."""
    out = np.eye(5)
    out[0, 1], out[0, 2], out[1, 2] = dt, dt * dt / 2.0, dt
    out[3, 3] = np.exp(-dt / time)
    return out


def _process(dt: float, jerk: float, sd: Array, time: float) -> Array:
    """Process noise over `dt`, by axis (axes, 5, 5); `sd` [m] of the wandering error by axis."""
    out = np.zeros((len(sd), 5, 5))
    out[:, :3, :3] = jerk * np.array(
        [
            [dt**5 / 20.0, dt**4 / 8.0, dt**3 / 6.0],
            [dt**4 / 8.0, dt**3 / 3.0, dt**2 / 2.0],
            [dt**3 / 6.0, dt**2 / 2.0, dt],
        ]
    )
    out[:, 3, 3] = sd**2 * (1.0 - np.exp(-2.0 * dt / time))
    return out


def smooth(
    times: Array,
    position: Array,
    speed: Array,
    *,
    wander: Array,
    wander_time: float,
    position_sd: Array,
    speed_sd: float,
    start_speed_sd: float = 40.0,
    jerk: float = JERK,
) -> Smoothed:
    """Smooth `position` and `speed` (axes, nodes) at rising `times` [s]; nan where there is no measurement.

    `wander`, `position_sd` [m] by axis: the wandering error and the new one; `speed_sd` [m/s] of a speed. A
    node without any measurement is told from its neighbours.
    """
    axes, nodes = position.shape
    x = np.zeros((axes, 5))
    p = np.zeros((axes, 5, 5))
    known = np.where(np.isnan(position), 0.0, position)
    x[:, 4] = known[np.arange(axes), np.argmax(~np.isnan(position), axis=1)]
    p[:, 1, 1], p[:, 2, 2], p[:, 3, 3], p[:, 4, 4] = start_speed_sd**2, 4.0, wander**2, 100.0**2

    predicted = np.zeros((nodes, axes, 5))
    predicted_p = np.zeros((nodes, axes, 5, 5))
    filtered = np.zeros_like(predicted)
    filtered_p = np.zeros_like(predicted_p)
    steps = np.zeros((nodes, 5, 5))
    wild = 0
    for k in range(nodes):
        if k:
            dt = float(times[k] - times[k - 1])
            steps[k] = _step(dt, wander_time)
            x = x @ steps[k].T
            p = steps[k] @ p @ steps[k].T + _process(dt, jerk, wander, wander_time)
        predicted[k], predicted_p[k] = x, p
        measured = (
            (position[:, k], np.array([1.0, 0.0, 0.0, 1.0, 1.0]), position_sd**2),
            (speed[:, k], np.array([0.0, 1.0, 0.0, 0.0, 0.0]), np.full(axes, speed_sd**2)),
        )
        for value, row, variance in measured:
            there = ~np.isnan(value)
            if not there.any():
                continue
            spread = p @ row
            total = spread @ row + variance
            miss = np.where(there, value - x @ row, 0.0)
            sane = there & (miss**2 <= WILD**2 * total)
            wild += int(np.count_nonzero(there & ~sane))
            gain = np.where(sane[:, None], spread / total[:, None], 0.0)
            x = x + gain * miss[:, None]
            p = p - gain[:, :, None] * spread[:, None, :]
        filtered[k], filtered_p[k] = x, p

    states, covariances = filtered.copy(), filtered_p.copy()
    for k in range(nodes - 2, -1, -1):
        ahead = predicted_p[k + 1] + 1e-9 * np.eye(5)
        gain_t = np.linalg.solve(ahead, steps[k + 1] @ filtered_p[k])
        states[k] = filtered[k] + np.einsum("aji,aj->ai", gain_t, states[k + 1] - predicted[k + 1])
        change = covariances[k + 1] - predicted_p[k + 1]
        covariances[k] = filtered_p[k] + np.swapaxes(gain_t, 1, 2) @ change @ gain_t
    return Smoothed(times, np.swapaxes(states, 0, 1), np.swapaxes(covariances, 0, 1), wild)
