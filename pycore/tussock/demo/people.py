"""Who comes along, weighed dressed. And a dog, who mostly stays with the neighbours."""

from __future__ import annotations

from typing import Any

from .figures import guessed, measured


def people() -> list[dict[str, Any]]:
    return [
        {
            "version": 1,
            "kind": "person",
            "id": "wren",
            "name": "Wren Alder",
            "mass": measured("68 kg", "1 kg", "With boots, pockets and headset"),
            "height": measured("1.74 m"),
            "width": measured("0.48 m"),
            "flies": True,
            "limits": {
                "crosswind": guessed("12 kt"),
                "tailwind": guessed("6 kt"),
                "gust_spread": guessed("10 kt"),
            },
        },
        {
            "version": 1,
            "kind": "person",
            "id": "rowan",
            "name": "Rowan Hale",
            "mass": measured("75 kg", "1 kg", "With boots and pockets"),
            "height": measured("1.78 m"),
            "width": measured("0.51 m"),
        },
        {
            "version": 1,
            "kind": "person",
            "id": "bramble",
            "name": "Bramble, in the crate",
            "is_a": "dog",
            "mass": measured("21 kg", "1 kg", "With the crate"),
            "mass_is_private": False,
        },
    ]
