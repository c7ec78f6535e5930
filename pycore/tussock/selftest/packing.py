"""Invented choices of any size, by number: to hold the model against another, and to measure the solver."""

from __future__ import annotations

import numpy as np

from ..sums.packing.choice import AtLeast, Choice, Moment, Together
from ..sums.packing.pieces import convex_pieces, guarded

#: four envelopes, masses [kg] and arms [m]: an oblong, a cut corner, one that is not convex, a bent one
ENVELOPES = (
    ((350.0, 350.0, 650.0, 650.0), (0.22, 0.46, 0.46, 0.22)),
    ((350.0, 350.0, 650.0, 650.0, 500.0), (0.22, 0.46, 0.46, 0.28, 0.22)),
    (
        (350.0, 350.0, 480.0, 520.0, 650.0, 650.0, 560.0, 500.0),
        (0.22, 0.44, 0.40, 0.40, 0.45, 0.27, 0.29, 0.22),
    ),
    ((350.0, 350.0, 650.0, 650.0), (0.20, 0.38, 0.46, 0.26)),
)


def invented(number: int, items: int = 60, bays: int = 4, *, plain: bool = False) -> Choice:
    """The choice of that number: some two thirds of the kit fits, by bulk, mass and balance about alike.

    Masses in tenths of a kilogram, bulk in tenths of a litre, so that no limit is missed by rounding alone.
    `plain`: with the oblong envelope and nothing that must come, as a measurement wants it.
    """
    draw = np.random.default_rng(number)
    mass = np.round(draw.gamma(2.0, 1.2, items) + 0.2, 1)
    litres = np.round(np.clip(mass * draw.lognormal(1.1, 0.5, items), 0.5, 60.0), 1)
    worth = draw.integers(1, 11 if plain or bays < 4 else 5, items)
    edge = np.round(draw.gamma(4.0, 0.11, items), 2)
    longest = np.round(draw.uniform(0.5, 1.4, bays), 2)
    may = edge[:, None] <= longest[None, :]
    fraction = np.round(draw.uniform(0.75, 0.95, bays), 2)
    share = draw.dirichlet(np.full(bays, 6.0))
    # many small bays are a puzzle by themselves: where much else binds too they are roomier
    room = 1.0 if plain else draw.uniform(1.0, 1.6)
    bay_bulk = np.round(share * np.sum(litres) * room * draw.uniform(0.5, 0.85), 1)
    bay_mass = np.round(share * np.sum(mass) * room * draw.uniform(0.5, 0.9), 1)
    arm = np.round(np.sort(draw.uniform(-0.3, 1.5, bays)), 2)
    total = round(float(np.sum(mass)) * float(draw.uniform(0.5, 0.8)), 1)
    outline = ENVELOPES[0 if plain else int(draw.integers(0, 4))]
    # aeroplane and people lie so that a middling load of kit is near one side of the envelope or the other
    empty, aim = 640.0 - total - draw.uniform(10.0, 40.0), draw.choice([0.27, 0.40])
    middle = float(np.sum(arm * share)) * total
    moments = []
    for name, fuel in (("ramp", 30.0), ("landing", 12.0), ("zero_fuel", 0.0)):
        moment = aim * (empty + total) - middle
        pieces = tuple(guarded(piece, 0.8) for piece in convex_pieces(*outline))
        moments.append(Moment(name, float(empty + fuel), float(moment + 0.3 * fuel), pieces))
    must = np.zeros(items, dtype=bool) if plain else draw.random(items) < 0.05
    must &= may.any(axis=1)
    locked = np.full(items, -2)
    together: tuple[Together, ...] = ()
    at_least: tuple[AtLeast, ...] = ()
    if not plain:
        for item in np.flatnonzero(draw.random(items) < 0.03):
            if may[item].any():
                locked[item] = int(np.flatnonzero(may[item])[0])
        if bays > 1:
            pair = np.arange(bays) < 2
            together = (Together(pair, round(float(np.sum(bay_mass[pair])) * 0.9, 1)),)
        water = draw.random(items) < 0.1
        water &= may.any(axis=1)
        at_least = (AtLeast(water, round(0.4 * float(np.sum(mass[water])), 1)),)
    return Choice(
        worth=worth.astype(np.int64),
        mass=mass,
        bulk=1e-3 * litres[:, None] / fraction[None, :],
        may=may,
        must=must,
        locked=locked.astype(np.int64),
        arm=arm.astype(np.float64),
        bay_mass=bay_mass,
        bay_bulk=1e-3 * bay_bulk,
        total=total,
        together=together,
        at_least=at_least,
        moments=tuple(moments),
        unwelcome=np.tile((arm - arm.min()) / max(float(np.ptp(arm)), 1e-9), (items, 1)).astype(np.float64),
    )
