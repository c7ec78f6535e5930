"""Typical figures of four classes of light aeroplane, as one would type them.

From memory of what handbooks of such aeroplanes say, rounded to the adverse side; no aeroplane that exists
has just these. `sd` is how far a real one of the class may well be off.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Guess:
    """A figure as typed, and its standard deviation as a difference in the same unit."""

    typed: str
    sd: str


@dataclass(frozen=True)
class Row:
    """A row of seats side by side: ids and names, arm, and whether the first sits at the controls."""

    seats: tuple[tuple[str, str], ...]
    arm: Guess
    controls: bool


@dataclass(frozen=True)
class Space:
    """A bay: litres, edges, longest thing, door, most mass."""

    id: str
    name: str
    arm: Guess
    volume: Guess
    length: Guess
    width: Guess
    height: Guess
    longest: Guess
    door: tuple[Guess, Guess]
    mass: Guess


@dataclass(frozen=True)
class Class:
    """What is typical of a class. Distances, climb: full mass, standard sea level, dry pavement, calm."""

    id: str
    name: str
    class_of: str
    layout: str
    datum: str
    wheels: tuple[Guess, Guess]
    area: Guess
    span: Guess
    wing_height: Guess
    power: Guess
    rotation: Guess
    propeller: Guess
    empty: tuple[Guess, Guess]
    largest: Guess
    #: corners of the envelope: mass [kg], arm [m]
    envelope: tuple[tuple[float, float], ...]
    rows: tuple[Row, ...]
    bays: tuple[Space, ...]
    tank: tuple[Guess, Guess, Guess]
    #: stall at the largest mass, calibrated: flap up, for take-off, full
    stalls: tuple[Guess, Guess, Guess]
    climb_speeds: tuple[Guess, Guess]
    takeoff: tuple[Guess, Guess]
    landing: tuple[Guess, Guess]
    #: rate of climb [m/s] and the density altitude [m] where it is gone, at the largest mass
    climb: tuple[float, float]
    cruise: tuple[Guess, Guess, Guess]
    climb_flow: Guess
    crosswind: Guess


_SIDE_BY_SIDE = (("left", "Left seat"), ("right", "Right seat"))
_REAR = (("rear-left", "Rear left seat"), ("rear-right", "Rear right seat"))

TWO_SEAT_TAILWHEEL = Class(
    id="two-seat-tailwheel",
    name="Two-seat tailwheel",
    class_of="light two-seat tailwheel",
    layout="tailwheel",
    datum="Leading edge of the wing at its root, aeroplane level",
    wheels=(Guess("-80 mm", "60 mm"), Guess("4400 mm", "300 mm")),
    area=Guess("13.5 m²", "1.5 m²"),
    span=Guess("10.4 m", "0.5 m"),
    wing_height=Guess("2.0 m", "0.2 m"),
    power=Guess("95 hp", "8 hp"),
    rotation=Guess("2700 rpm", "150 rpm"),
    propeller=Guess("1.85 m", "0.08 m"),
    empty=(Guess("385 kg", "25 kg"), Guess("250 mm", "50 mm")),
    largest=Guess("600 kg", "30 kg"),
    envelope=((350.0, 0.22), (350.0, 0.44), (600.0, 0.44), (600.0, 0.27), (480.0, 0.22)),
    rows=(Row(_SIDE_BY_SIDE, Guess("400 mm", "60 mm"), True),),
    bays=(
        Space(
            "hold", "Hold behind the seats", Guess("1000 mm", "120 mm"), Guess("140 L", "40 L"),
            Guess("0.70 m", "0.15 m"), Guess("0.70 m", "0.10 m"), Guess("0.35 m", "0.08 m"),
            Guess("1.00 m", "0.20 m"), (Guess("0.55 m", "0.10 m"), Guess("0.35 m", "0.08 m")),
            Guess("25 kg", "5 kg"),
        ),
    ),
    tank=(Guess("300 mm", "80 mm"), Guess("80 L", "15 L"), Guess("4 L", "2 L")),
    stalls=(Guess("43 kt", "3 kt"), Guess("40 kt", "3 kt"), Guess("38 kt", "3 kt")),
    climb_speeds=(Guess("58 kt", "4 kt"), Guess("54 kt", "4 kt")),
    takeoff=(Guess("230 m", "40 m"), Guess("480 m", "75 m")),
    landing=(Guess("170 m", "35 m"), Guess("400 m", "65 m")),
    climb=(3.4, 4000.0),
    cruise=(Guess("2500 rpm", "100 rpm"), Guess("84 kt", "6 kt"), Guess("19 L/h", "2.5 L/h")),
    climb_flow=Guess("26 L/h", "3 L/h"),
    crosswind=Guess("8 kt", "2 kt"),
)  # fmt: skip

TWO_SEAT_NOSEWHEEL = Class(
    id="two-seat-nosewheel",
    name="Two-seat nosewheel",
    class_of="light two-seat nosewheel",
    layout="nosewheel",
    datum="Firewall",
    wheels=(Guess("1170 mm", "80 mm"), Guess("-300 mm", "100 mm")),
    area=Guess("14.5 m²", "1.5 m²"),
    span=Guess("10.0 m", "0.6 m"),
    wing_height=Guess("2.0 m", "0.5 m"),
    power=Guess("108 hp", "8 hp"),
    rotation=Guess("2600 rpm", "150 rpm"),
    propeller=Guess("1.80 m", "0.08 m"),
    empty=(Guess("510 kg", "30 kg"), Guess("820 mm", "40 mm")),
    largest=Guess("750 kg", "30 kg"),
    envelope=((480.0, 0.80), (480.0, 0.95), (750.0, 0.95), (750.0, 0.84), (600.0, 0.80)),
    rows=(Row(_SIDE_BY_SIDE, Guess("990 mm", "60 mm"), True),),
    bays=(
        Space(
            "hold", "Hold behind the seats", Guess("1640 mm", "120 mm"), Guess("170 L", "50 L"),
            Guess("0.70 m", "0.15 m"), Guess("0.90 m", "0.10 m"), Guess("0.40 m", "0.10 m"),
            Guess("1.10 m", "0.20 m"), (Guess("0.60 m", "0.10 m"), Guess("0.45 m", "0.10 m")),
            Guess("40 kg", "10 kg"),
        ),
    ),
    tank=(Guess("1060 mm", "80 mm"), Guess("90 L", "15 L"), Guess("6 L", "3 L")),
    stalls=(Guess("48 kt", "3 kt"), Guess("46 kt", "3 kt"), Guess("43 kt", "3 kt")),
    climb_speeds=(Guess("67 kt", "4 kt"), Guess("60 kt", "4 kt")),
    takeoff=(Guess("270 m", "45 m"), Guess("520 m", "80 m")),
    landing=(Guess("190 m", "40 m"), Guess("450 m", "70 m")),
    climb=(3.2, 3900.0),
    cruise=(Guess("2400 rpm", "100 rpm"), Guess("95 kt", "6 kt"), Guess("24 L/h", "3 L/h")),
    climb_flow=Guess("31 L/h", "4 L/h"),
    crosswind=Guess("10 kt", "2 kt"),
)  # fmt: skip

FOUR_SEAT_NOSEWHEEL = Class(
    id="four-seat-nosewheel",
    name="Four-seat nosewheel",
    class_of="four-seat nosewheel, fixed pitch",
    layout="nosewheel",
    datum="Firewall",
    wheels=(Guess("1480 mm", "100 mm"), Guess("-180 mm", "120 mm")),
    area=Guess("16.0 m²", "1.0 m²"),
    span=Guess("10.8 m", "0.6 m"),
    wing_height=Guess("2.0 m", "0.7 m"),
    power=Guess("158 hp", "8 hp"),
    rotation=Guess("2700 rpm", "100 rpm"),
    propeller=Guess("1.90 m", "0.06 m"),
    empty=(Guess("690 kg", "35 kg"), Guess("1000 mm", "40 mm")),
    largest=Guess("1080 kg", "40 kg"),
    envelope=((650.0, 0.90), (650.0, 1.19), (1080.0, 1.19), (1080.0, 1.00), (880.0, 0.90)),
    rows=(
        Row(_SIDE_BY_SIDE, Guess("950 mm", "60 mm"), True),
        Row(_REAR, Guess("1850 mm", "80 mm"), False),
    ),
    bays=(
        Space(
            "hold", "Hold behind the rear seats", Guess("2420 mm", "120 mm"), Guess("350 L", "100 L"),
            Guess("0.80 m", "0.15 m"), Guess("0.95 m", "0.10 m"), Guess("0.55 m", "0.10 m"),
            Guess("1.20 m", "0.20 m"), (Guess("0.38 m", "0.08 m"), Guess("0.55 m", "0.08 m")),
            Guess("45 kg", "10 kg"),
        ),
    ),
    tank=(Guess("1220 mm", "100 mm"), Guess("160 L", "30 L"), Guess("10 L", "5 L")),
    stalls=(Guess("52 kt", "3 kt"), Guess("50 kt", "3 kt"), Guess("47 kt", "3 kt")),
    climb_speeds=(Guess("74 kt", "4 kt"), Guess("64 kt", "4 kt")),
    takeoff=(Guess("310 m", "50 m"), Guess("570 m", "85 m")),
    landing=(Guess("200 m", "40 m"), Guess("460 m", "70 m")),
    climb=(3.2, 4000.0),
    cruise=(Guess("2450 rpm", "100 rpm"), Guess("108 kt", "6 kt"), Guess("35 L/h", "4 L/h")),
    climb_flow=Guess("48 L/h", "5 L/h"),
    crosswind=Guess("11 kt", "2 kt"),
)  # fmt: skip

FOUR_SEAT_TAILWHEEL = Class(
    id="four-seat-tailwheel",
    name="Four-seat tailwheel",
    class_of="four-seat tailwheel",
    layout="tailwheel",
    datum="Leading edge of the wing at its root, aeroplane level",
    wheels=(Guess("100 mm", "80 mm"), Guess("5300 mm", "300 mm")),
    area=Guess("16.5 m²", "1.0 m²"),
    span=Guess("10.9 m", "0.5 m"),
    wing_height=Guess("2.1 m", "0.2 m"),
    power=Guess("175 hp", "10 hp"),
    rotation=Guess("2700 rpm", "100 rpm"),
    propeller=Guess("2.00 m", "0.10 m"),
    empty=(Guess("670 kg", "40 kg"), Guess("340 mm", "50 mm")),
    largest=Guess("1060 kg", "40 kg"),
    envelope=((620.0, 0.28), (620.0, 0.62), (1060.0, 0.62), (1060.0, 0.38), (860.0, 0.28)),
    rows=(
        Row(_SIDE_BY_SIDE, Guess("430 mm", "60 mm"), True),
        Row(_REAR, Guess("1200 mm", "100 mm"), False),
    ),
    bays=(
        Space(
            "hold", "Hold behind the rear seats", Guess("1800 mm", "150 mm"), Guess("300 L", "100 L"),
            Guess("0.80 m", "0.15 m"), Guess("0.80 m", "0.10 m"), Guess("0.50 m", "0.10 m"),
            Guess("1.20 m", "0.20 m"), (Guess("0.50 m", "0.10 m"), Guess("0.45 m", "0.10 m")),
            Guess("40 kg", "10 kg"),
        ),
    ),
    tank=(Guess("550 mm", "100 mm"), Guess("150 L", "30 L"), Guess("8 L", "4 L")),
    stalls=(Guess("49 kt", "3 kt"), Guess("46 kt", "3 kt"), Guess("43 kt", "3 kt")),
    climb_speeds=(Guess("70 kt", "4 kt"), Guess("60 kt", "4 kt")),
    takeoff=(Guess("270 m", "45 m"), Guess("510 m", "80 m")),
    landing=(Guess("210 m", "45 m"), Guess("460 m", "70 m")),
    climb=(3.8, 4300.0),
    cruise=(Guess("2450 rpm", "100 rpm"), Guess("102 kt", "7 kt"), Guess("38 L/h", "4 L/h")),
    climb_flow=Guess("54 L/h", "5 L/h"),
    crosswind=Guess("8 kt", "2 kt"),
)  # fmt: skip

CLASSES = (TWO_SEAT_TAILWHEEL, TWO_SEAT_NOSEWHEEL, FOUR_SEAT_NOSEWHEEL, FOUR_SEAT_TAILWHEEL)
