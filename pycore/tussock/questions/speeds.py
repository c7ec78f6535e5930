"""Speeds of a flap setting at a mass in an air: calibrated to scale, true for the sums, indicated to show."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..documents.aeroplane import Aeroplane, FlapSetting
from ..sums.airspeed import (
    calibrated_airspeed,
    calibrated_from_indicated,
    indicated_from_calibrated,
    stall_speed,
    true_airspeed,
)
from .working import Working

#: no climb or turn speed is ever shown below this multiple of the stall
LEAST_MULTIPLE = 1.2
#: lift-off and 50 ft speeds where the document gives none, as multiples of the stall (CS 23.51, from memory)
LIFT_OFF, AT_50FT = 1.1, 1.2
TOUCHDOWN = 1.15


@dataclass(frozen=True)
class Setting:
    """One flap setting at one mass in one air."""

    flap: FlapSetting
    plane: Aeroplane
    mass: float
    pressure: float
    density: float
    work: Working

    @cached_property
    def stall(self) -> float:
        """Stall, calibrated [m/s]; nan when the flap has none, or none with its mass.

        The greatest mass is not put in for one not given: measured light, the stall would come out too slow.
        """
        flap = self.flap
        if flap.stall is None or flap.stall_mass is None:
            return math.nan
        return float(
            self.work.step(
                stall_speed,
                reference_stall_speed=flap.stall.value,
                reference_mass=flap.stall_mass.value,
                mass=self.mass,
            )
        )

    def true(self, calibrated: float) -> float:
        """True airspeed [m/s] of a calibrated one."""
        return float(
            self.work.step(
                true_airspeed, calibrated_airspeed=calibrated, pressure=self.pressure, density=self.density
            )
        )

    def calibrated(self, true: float) -> float:
        return float(
            self.work.step(
                calibrated_airspeed, true_airspeed=true, pressure=self.pressure, density=self.density
            )
        )

    def indicated(self, calibrated: float) -> float:
        """What the dial shows [m/s]; nan where the correction table does not reach."""
        table = self.flap.correction
        if len(table) < 2 or math.isnan(calibrated):
            return math.nan
        shown = np.array([point.indicated for point in table])
        real = np.array([point.calibrated for point in table])
        return float(
            self.work.step(
                indicated_from_calibrated,
                calibrated_airspeed=calibrated,
                table_indicated=shown,
                table_calibrated=real,
            )
        )

    def from_indicated(self, indicated: float) -> float:
        table = self.flap.correction
        if len(table) < 2:
            return math.nan
        shown = np.array([point.indicated for point in table])
        real = np.array([point.calibrated for point in table])
        return float(
            self.work.step(
                calibrated_from_indicated,
                indicated_airspeed=indicated,
                table_indicated=shown,
                table_calibrated=real,
            )
        )

    @property
    def lift_off(self) -> float:
        """Lift-off speed, calibrated [m/s]."""
        factor = self.flap.lift_off_factor
        return self.stall * (factor.value if factor else LIFT_OFF)

    @property
    def at_50ft(self) -> float:
        factor = self.flap.at_50ft_factor
        return self.stall * (factor.value if factor else AT_50FT)

    @property
    def touchdown(self) -> float:
        """Touchdown speed, calibrated [m/s]."""
        factor = self.flap.touchdown_factor
        return self.stall * (factor.value if factor else TOUCHDOWN)

    @property
    def climb(self) -> float:
        """Climb speed, calibrated [m/s], never below 1.2 times the stall; nan when none is given."""
        if self.flap.climb_speed is None:
            return math.nan
        return max(self.flap.climb_speed.value, LEAST_MULTIPLE * self.stall)
