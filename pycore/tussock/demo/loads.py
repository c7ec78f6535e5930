"""Who sits where and what rides in which bay, leg by leg."""

from __future__ import annotations

from typing import Any

#: what rides in a locker close at hand, in either aeroplane
AT_HAND = ("survival-bag", "beacon", "first-aid", "extinguisher", "tie-downs", "oil", "tester", "papers")
LIGHT_CAMP = (
    "water-one", "water-two", "covers", "tent-one", "bag-wren", "bag-rowan", "mat-wren", "mat-rowan", "stove",
    "gas", "pot", "iron-pot", "food-three", "clothes-wren", "clothes-rowan",
)  # fmt: skip
FOR_THE_WEEK = ("more-wren", "more-rowan", "down-wren", "down-rowan", "boots-wren", "boots-rowan")
HEAVY_CAMP = (
    "tool-roll", "tube", "chair-one", "chair-two", "lantern", "tarp", "rods", "pump", "tape", "plugs",
)  # fmt: skip
#: what is packed into what, wherever both are on a load
INSIDE = {"clothes-wren": "duffel", "more-wren": "duffel", "down-wren": "duffel"}
LEFT_OVER = ("tent-two",)


def loads() -> list[dict[str, Any]]:
    both = {"left": "wren", "right": "rowan"}
    front = {"front-left": "wren", "front-right": "rowan"}
    return [
        _load(
            "dabchick-three-days", "Dabchick, both, three days", both, {"locker": AT_HAND, "hold": LIGHT_CAMP}
        ),
        _load(
            "dabchick-alone",
            "Dabchick, Wren alone",
            {"left": "wren"},
            {
                "locker": AT_HAND,
                "hold": ("water-one", "covers", "bag-wren", "mat-wren", "clothes-wren", "tool-roll"),
            },
        ),
        _load(
            "dabchick-week",
            "Dabchick, both, clothes for a week",
            both,
            {"locker": AT_HAND, "hold": LIGHT_CAMP + FOR_THE_WEEK},
        ),
        _load(
            "shelduck-week",
            "Shelduck, both, the whole camp",
            front,
            {
                "pocket": (*AT_HAND, "power"),
                "floor": LIGHT_CAMP + HEAVY_CAMP + FOR_THE_WEEK + ("duffel",),
                "baggage": ("headset",),
            },
        ),
        _load(
            "shelduck-alone",
            "Shelduck, Wren alone, the whole camp",
            {"front-left": "wren"},
            {
                "pocket": (*AT_HAND, "power"),
                "floor": LIGHT_CAMP + HEAVY_CAMP + FOR_THE_WEEK + ("duffel",) + LEFT_OVER,
                "baggage": ("headset",),
            },
        ),
        _load(
            "shelduck-trunk",
            "Shelduck, both, with the lent trunk",
            front,
            {"pocket": AT_HAND, "floor": (*LIGHT_CAMP, "lent-trunk")},
        ),
    ]


def _load(name: str, label: str, seats: dict[str, str], bays: dict[str, tuple[str, ...]]) -> dict[str, Any]:
    return {
        "id": name,
        "name": label,
        "seats": [{"seat": seat, "person": person} for seat, person in seats.items()],
        "placed": [_placed(item, bay, items) for bay, items in bays.items() for item in items],
    }


def _placed(item: str, bay: str, others: tuple[str, ...]) -> dict[str, Any]:
    holder = INSIDE.get(item)
    return {"item": item, "bay": bay} | ({"inside": holder} if holder in others else {})
