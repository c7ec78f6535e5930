"""Strips and sources at their edges: closed ways, empty tables, silent favourites.

All goes through the border, whose JSON is read strictly: a figure that is not finite fails by itself.
"""

from __future__ import annotations

import math

import pytest

from . import case
from .case import fig, measure, reasons

# --- the strip --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("strip", "question", "other"), [("heath", "lifts_off", "landing"), ("moor", "stops", "takeoff")]
)
def test_a_direction_that_is_closed_or_for_the_other_use_is_a_no(strip, question, other):
    for use in ("closed", other):
        documents = case.base()
        case.put(documents, f"/{strip}/directions/07/use", use)
        assert case.verdicts(documents)[question] == "no"


@pytest.mark.parametrize("surface", ["soft", "snow"])
def test_a_surface_whose_factor_is_a_least_one_proves_no_yes(surface):
    documents = case.base()
    documents["heath"]["ground"]["state"] |= {"surface": surface}
    assert case.verdicts(documents)["lifts_off"] == "can't say"


def test_grass_above_20_cm_cant_say():
    documents = case.base()
    documents["heath"]["ground"]["state"] |= {"surface": "grass_long_dry", "grass_height": fig(0.3)}
    assert case.verdicts(documents)["lifts_off"] == "can't say"


@pytest.mark.parametrize(
    ("pointer", "question"),
    [
        ("/heath/directions/07/departure", "climbs_out"),
        ("/moor/directions/07/approach", "stops"),
        ("/moor/directions/07/go_around_way", "stops"),
    ],
)
def test_obstacles_unknown_cant_say_and_none_is_a_statement(pointer, question):
    documents = case.base()
    case.put(documents, pointer, {"state": "unknown"})
    assert case.verdicts(documents)[question] == "can't say"
    said = {"state": "none", "said_by": "Wren", "at": "2026-05-19T18:00:00+02:00"}
    assert case.verdicts(case.put(documents, pointer, said))[question] == "yes"


def test_an_obstacle_at_the_very_end_is_a_no():
    documents = case.base()
    documents["heath"]["directions"][0]["departure"]["obstacles"][0] |= {
        "distance": fig(0.0),
        "height": fig(60.0),
    }
    assert case.verdicts(documents)["climbs_out"] == "no"


def test_no_mass_pays_by_rolling_over_a_hump():
    """Uphill to the middle, level beyond: whoever lifts off later has the hump behind, and no shorter way."""
    needed = []
    for mass in range(40, 70, 3):
        documents = case.base("constants")
        documents["heath"]["ground"]["segments"] = [
            {"length": 300.0, "slope": 0.02},
            {"length": 700.0, "slope": 0.0},
        ]
        case.put(documents, "/plover/performance/constants/static_thrust", fig(900.0))
        case.put(documents, "/plover/performance/constants/rated_torque", fig(230.0))
        case.put(documents, "/lark/mass", fig(float(mass)))
        needed.append(measure(case.quick(documents)["lifts_off"], "takeoff_distance")["needed"])
    assert needed == sorted(needed)


def test_a_strip_that_forbids_the_go_around_says_so():
    documents = case.base()
    case.put(documents, "/moor/directions/07/go_around", "none")
    answer = case.answers(documents)["stops"]
    assert answer["verdict"] == "yes"
    assert "note.committed" in case.texts(answer["notes"])


def test_a_steep_turn_is_not_flown_slower_than_its_stall_allows():
    """In 60 degrees of bank the stall is 1.41 times as fast: the room grows again beyond some bank."""
    documents = case.base()
    room = []
    for bank in (0.5, 0.8, 1.05):
        documents["plover"]["turn_bank"] = bank
        room.append(measure(case.quick(documents)["climbs_out"], "valley")["needed"])
    # V² grows as 1/cos, tan as the bank: without the stall the last would be 0.31 of the first
    assert room[2] > 0.5 * room[0] * math.tan(0.5) / math.tan(1.05) * 2 * math.cos(0.5)
    slow = 2 * 27.0**2 / (9.80665 * math.tan(1.05))
    assert room[2] > slow * 1.2


# --- sources ----------------------------------------------------------------------------------------------


def test_two_sources_apart_are_both_shown_and_the_longer_decides():
    answer = case.answers(case.base())["lifts_off"]
    lengths = [one["over_50ft"] for one in answer["picture"]["sources"]]
    assert len(lengths) == 3
    assert answer["picture"]["over_50ft"] == max(lengths)
    assert "note.sources_apart" in case.texts(answer["notes"])


@pytest.mark.parametrize(
    ("sources", "pointer", "value", "text"),
    [
        ("book", "/air-heath/temperature", 318.16, "reason.outside_table"),
        ("known", "/heath/ground/state/surface", "earth_dry", None),
        ("constants", "/heath/ground/state/surface", "earth_dry", "missing.rolling_friction"),
    ],
)
def test_outside_its_table_a_source_is_silent(sources, pointer, value, text):
    documents = case.base(sources)
    case.put(documents, pointer, value)
    answer = case.answers(documents)["lifts_off"]
    assert (answer["verdict"] == "can't say") == (text is not None)
    assert text is None or text in reasons(answer)


def test_the_last_line_of_a_table_still_answers():
    documents = case.base("book")
    for figure, beyond in ((318.1, False), (318.16, True)):
        documents["air-heath"] |= {"temperature": figure, "dew_point": 230.0}
        needed = measure(case.answers(documents)["lifts_off"], "takeoff_distance")["needed"]
        assert (needed is None) == beyond


def test_an_empty_cell_of_a_table_cant_say():
    documents = case.base("book")
    table = case.element(documents["plover"]["performance"], "book-takeoff")
    table["over_50ft"] = [[[None for _ in row] for row in plane] for plane in table["over_50ft"]]
    answer = case.answers(documents)["lifts_off"]
    assert answer["verdict"] == "can't say"
    assert "reason.table_empty" in reasons(answer)


def test_a_best_effort_never_decides():
    for sources, name in (("book", "book-takeoff"), ("known", "known-takeoff"), ("constants", "constants")):
        documents = case.base(sources)
        case.element(documents["plover"]["performance"], name)["technique"] = "best"
        assert case.verdicts(documents)["lifts_off"] == "can't say"


def test_beyond_the_koch_chart_the_leaflet_alone_does_not_answer():
    """At 12,000 ft of density altitude the chart ends; a distance that shortens there would be absurd."""
    documents = case.base("known")
    needed = []
    for high in (3500.0, 3600.0, 3700.0):
        documents["heath"]["elevation"]["value"] = high
        documents["air-heath"] |= {
            "pressure": {"by": "altimeter", "pressure_altitude": high},
            "temperature": 288.15 - 0.0065 * high,
            "dew_point": 230.0,
        }
        needed.append(measure(case.quick(documents)["lifts_off"], "takeoff_distance")["needed"])
    assert needed[0] < needed[1]
    assert needed[2] is None


def test_a_table_for_another_flap_is_not_taken():
    documents = case.base("book")
    case.element(documents["plover"]["performance"], "book-climb")["flap"] = "up"
    assert case.verdicts(documents)["climbs_out"] == "can't say"


def test_a_tailwind_rule_that_shortens_gives_no_credit():
    documents = case.base("book")
    documents["air-moor"]["wind"] = {"by": "measured", "speed": 3.0, "wind_from": math.pi, "against": "07"}
    table = case.element(documents["plover"]["performance"], "book-landing")
    table["tailwind_rule"]["factor"] = 1.0
    level = measure(case.quick(documents)["stops"], "landing_distance")["needed"]
    table["tailwind_rule"]["factor"] = 0.8
    assert measure(case.quick(documents)["stops"], "landing_distance")["needed"] == pytest.approx(level)


def test_an_aeroplane_that_does_not_accelerate_is_a_no_with_a_reason():
    documents = case.base("constants")
    case.put(documents, "/plover/performance/constants/static_thrust", fig(150.0))
    answer = case.answers(documents)["lifts_off"]
    assert answer["verdict"] == "no"
    assert "reason.no_acceleration" in reasons(answer)
    assert answer["needed"] is None
    assert answer["picture"]["roll"] is None


def test_an_aeroplane_that_does_not_climb_to_50_ft_is_a_no_with_a_reason():
    documents = case.base("constants")
    case.put(documents, "/plover/performance/constants/rated_torque", fig(120.0))
    found = case.answers(documents)
    assert found["lifts_off"]["verdict"] == "no"
    assert reasons(found["lifts_off"]) & {"reason.no_climb", "reason.no_acceleration"}
    assert found["climbs_out"]["verdict"] == "no"


@pytest.mark.parametrize(("name", "question"), [("takeoff_safety", "lifts_off"), ("landing_safety", "stops")])
def test_a_safety_factor_lowered_is_shown_and_below_115_nothing_is_better_than_tight(name, question):
    documents = case.base()
    documents["settings"][name] = 1.2
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "yes"
    assert f"note.lowered.{name}" in case.texts(answer["notes"])
    documents["settings"][name] = 1.14
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "tight"
    assert f"reason.low.{name}" in reasons(answer)


@pytest.mark.parametrize("question", ["climbs_out", "stops"])
@pytest.mark.parametrize(
    ("name", "told", "low"),
    [("obstacle_clearance", 10.0, 7.0), ("least_gradient", 0.02, 0.016), ("ridge_clearance", 100.0, 70.0)],
)
def test_heights_kept_and_a_gradient_lowered_are_shown_and_at_less_than_half_tight(question, name, told, low):
    counts = (question, name) != ("stops", "ridge_clearance")
    documents = case.base()
    documents["settings"][name] = told
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "yes"
    assert (f"note.lowered.{name}" in case.texts(answer["notes"])) == counts
    documents["settings"][name] = low
    answer = case.answers(documents)[question]
    assert answer["verdict"] == ("tight" if counts else "yes")
    assert (f"reason.low.{name}" in reasons(answer)) == counts


def test_a_go_around_says_in_which_flap_it_is_flown():
    documents = case.base()
    flaps = {one["id"]: one for one in documents["plover"]["flaps"]}
    landing = flaps[documents[case.TRIP]["legs"][0]["landing_flap"]]
    landing["climb_speed"] = fig(28.0)
    assert "assumed.go_around_rig" in case.texts(case.answers(documents)["stops"]["assumptions"])
    del landing["climb_speed"]
    assert "assumed.go_around_takeoff_flap" in case.texts(case.answers(documents)["stops"]["assumptions"])


NOTE = {"id": "latch", "text": "The left latch wants a second push."}


@pytest.mark.parametrize("question", case.QUESTIONS)
def test_an_owners_note_shows_where_it_matters_and_nowhere_else(question):
    def told(**only):
        documents = case.base()
        documents["plover"]["quirks"] = [NOTE | {"at": [question]} | only]
        found = case.answers(documents)
        note = {"text": "text", "values": {"text": NOTE["text"]}}
        return {name for name, answer in found.items() if note in answer["notes"]}

    assert told() == told(configuration="steps") == {question}
    assert told(configuration="plain") == set()
    ends = {"lifts_off": "first", "climbs_out": "first", "stops": "full"}
    if question in ends:
        assert told(flap=ends[question]) == {question}
        assert told(flap="full" if ends[question] == "first" else "first") == set()


def test_of_two_limits_the_worse_is_told_first():
    from tussock.questions.answer import Answer, message

    answer = Answer("lifts_off")
    answer.limit("tight", message("reason.latest_worse"))
    answer.limit("can't say", message("reason.stale_air"))
    answer.limit("tight", message("reason.estimated_source"))
    assert [one["text"] for one in answer.reasons] == [
        "reason.stale_air",
        "reason.latest_worse",
        "reason.estimated_source",
    ]
