"""What comes along: four kits, forty-nine things."""

from __future__ import annotations

from typing import Any

from .figures import fig, measured


def kits() -> list[dict[str, Any]]:
    return [
        _kit("always", "Always aboard", _ALWAYS),
        _kit("camp", "Camp", _CAMP),
        _kit("winter", "Clothes, winter", _WINTER),
        _kit("tools", "Tools and spares", _TOOLS),
    ]


def _kit(name: str, label: str, items: list[dict[str, Any]]) -> dict[str, Any]:
    return {"version": 1, "kind": "kit", "id": name, "name": label, "items": items}


def _item(name: str, label: str, mass: str, size: dict[str, Any] | None, **fields: Any) -> dict[str, Any]:
    """An item; a mass that starts with "~" was guessed, an empty one is not known."""
    item: dict[str, Any] = {"id": name, "name": label}
    if mass:
        item["mass"] = fig(mass.lstrip("~"), "estimated" if mass.startswith("~") else "measured")
    if size is not None:
        item["size"] = size
    return item | fields


def _soft(volume: str, crush: float = 0.0, longest: str | None = None) -> dict[str, Any]:
    size: dict[str, Any] = {"shape": "soft", "volume": measured(volume), "crush": crush}
    if longest is not None:
        size["longest"] = measured(longest)
    return size


def _box(length: str, width: str, height: str) -> dict[str, Any]:
    return {
        "shape": "rigid",
        "length": measured(length),
        "width": measured(width),
        "height": measured(height),
    }


_MUST = {"must_come": True, "worth": 10}

_ALWAYS = [
    _item("survival-bag", "Survival bag", "2.4 kg", _soft("7 L", 0.1), role="survival", **_MUST),
    _item(
        "beacon",
        "Beacon",
        "0.2 kg",
        _box("11 cm", "6 cm", "4 cm"),
        role="beacon",
        stays_accessible=True,
        danger="battery",
        **_MUST,
    ),
    _item("first-aid", "First aid", "0.9 kg", _soft("3 L"), role="first_aid", stays_accessible=True, **_MUST),
    _item(
        "extinguisher",
        "Extinguisher",
        "1.6 kg",
        _box("34 cm", "9 cm", "9 cm"),
        role="extinguisher",
        held_by="strap",
        stays_accessible=True,
        **_MUST,
    ),
    _item(
        "tie-downs", "Tie-downs and stakes", "2.8 kg", _soft("5 L", 0.0, "45 cm"), role="tie_down", **_MUST
    ),
    _item(
        "oil",
        "Oil, two litres",
        "1.9 kg",
        _box("23 cm", "10 cm", "10 cm"),
        role="oil",
        upright=False,
        **_MUST,
    ),
    _item("water-one", "Water bag, 5 L", "5.1 kg", _soft("5 L"), role="water", **_MUST),
    _item("water-two", "Water bag, 5 L (second)", "5.1 kg", _soft("5 L"), role="water", **_MUST),
    _item("tester", "Fuel tester and funnel", "0.4 kg", _soft("2 L", 0.2), worth=9, must_come=True),
    _item("covers", "Screen and tube covers", "1.1 kg", _soft("5 L", 0.4), worth=7),
    _item("papers", "Papers and charts", "1.2 kg", _soft("2 L"), worth=9, stays_accessible=True),
]

_CAMP = [
    _item("tent-one", "Tent", "3.1 kg", _soft("11 L", 0.2, "48 cm"), worth=9),
    _item("tent-two", "Second tent", "4.6 kg", _soft("18 L", 0.2, "60 cm"), worth=4),
    _item("bag-wren", "Wren's sleeping bag", "1.5 kg", _soft("15 L", 0.5), worth=9, owner="wren"),
    _item("bag-rowan", "Rowan's sleeping bag", "1.7 kg", _soft("17 L", 0.5), worth=9, owner="rowan"),
    _item("mat-wren", "Wren's mat", "0.6 kg", _soft("5 L", 0.1, "60 cm"), worth=8, owner="wren"),
    _item("mat-rowan", "Rowan's mat", "0.6 kg", _soft("5 L", 0.1, "60 cm"), worth=8, owner="rowan"),
    _item("stove", "Stove", "0.9 kg", _box("22 cm", "18 cm", "9 cm"), worth=8),
    _item(
        "gas",
        "Gas, two cartridges",
        "0.8 kg",
        _box("22 cm", "11 cm", "10 cm"),
        worth=7,
        danger="gas",
        upright=True,
    ),
    _item("pot", "Cooking pot and cups", "1.1 kg", _box("20 cm", "20 cm", "11 cm"), worth=8),
    _item("iron-pot", "Iron pot", "4.3 kg", _box("28 cm", "28 cm", "16 cm"), worth=3, not_bays=["shelf"]),
    _item("food-three", "Food, three days", "5.4 kg", _soft("14 L", 0.1), worth=10),
    _item("food-rest", "Food, rest of the week", "8.2 kg", _soft("22 L", 0.1), worth=8),
    _item("chair-one", "Folding chair", "~1.9 kg", _soft("9 L", 0.0, "85 cm"), worth=4),
    _item("chair-two", "Second chair", "~1.9 kg", _soft("9 L", 0.0, "85 cm"), worth=3),
    _item("table", "Folding table", "~3.2 kg", _box("70 cm", "42 cm", "7 cm"), worth=2),
    _item(
        "cool-box",
        "Cool box, packed",
        "9.5 kg",
        _box("48 cm", "35 cm", "38 cm"),
        worth=4,
        upright=True,
        held_by="strap",
    ),
    _item("lantern", "Lantern", "0.7 kg", _soft("2 L"), worth=5),
    _item("tarp", "Tarpaulin and poles", "3.4 kg", _soft("10 L", 0.2, "1.20 m"), worth=4),
    _item("rods", "Fishing rods in their tube", "1.4 kg", _soft("4 L", 0.0, "1.15 m"), worth=3),
    _item(
        "lent-trunk",
        "Lent trunk",
        "",
        _box("60 cm", "40 cm", "30 cm"),
        worth=2,
        note="Nobody has put it on the scale yet.",
    ),
]

_WINTER = [
    _item(
        "duffel", "Blue duffel bag", "1.1 kg", _soft("55 L", 0.2), worth=5, owner="wren", holds_things=True
    ),
    _item("clothes-wren", "Wren's clothes, three days", "4.6 kg", _soft("24 L", 0.3), worth=9, owner="wren"),
    _item(
        "clothes-rowan", "Rowan's clothes, three days", "5.2 kg", _soft("27 L", 0.3), worth=9, owner="rowan"
    ),
    _item(
        "more-wren", "Wren's clothes, rest of the week", "3.4 kg", _soft("33 L", 0.3), worth=5, owner="wren"
    ),
    _item(
        "more-rowan",
        "Rowan's clothes, rest of the week",
        "3.6 kg",
        _soft("36 L", 0.3),
        worth=5,
        owner="rowan",
    ),
    _item("down-wren", "Wren's down jacket", "0.6 kg", _soft("9 L", 0.6), worth=8, owner="wren"),
    _item("down-rowan", "Rowan's down jacket", "0.7 kg", _soft("10 L", 0.6), worth=8, owner="rowan"),
    _item(
        "boots-wren", "Wren's winter boots", "1.4 kg", _box("31 cm", "22 cm", "12 cm"), worth=6, owner="wren"
    ),
    _item(
        "boots-rowan",
        "Rowan's winter boots",
        "1.7 kg",
        _box("34 cm", "24 cm", "12 cm"),
        worth=6,
        owner="rowan",
    ),
]

_TOOLS = [
    _item("tool-roll", "Tool roll", "4.2 kg", _soft("5 L", 0.0, "35 cm"), worth=7),
    _item("tube", "Spare tube and patches", "1.3 kg", _soft("3 L", 0.1), worth=6),
    _item("pump", "Tyre pump", "1.1 kg", _box("42 cm", "12 cm", "7 cm"), worth=6),
    _item("plugs", "Spark plugs, two", "0.3 kg", _soft("1 L"), worth=5),
    _item("jack", "Axle jack", "2.6 kg", _box("26 cm", "12 cm", "12 cm"), worth=3),
    _item("tape", "Tape, wire, cord", "0.8 kg", _soft("1.5 L"), worth=7),
    _item(
        "power",
        "Battery pack",
        "1.9 kg",
        _box("18 cm", "12 cm", "8 cm"),
        worth=5,
        danger="battery",
        stays_accessible=True,
    ),
    _item("headset", "Spare headset", "0.5 kg", _soft("3 L"), worth=4),
    _item(
        "jerrycan", "Jerrycan, empty", "2.4 kg", _box("42 cm", "33 cm", "17 cm"), worth=3, not_bays=["pocket"]
    ),
]
