"""A notebook in the answers: what is read of it, its bands, and that nothing gets better by it."""

from __future__ import annotations

import copy
import json
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock import cli
from tussock.api import handle
from tussock.demo import demo_bundle
from tussock.questions import tuning
from tussock.questions.answer import RANK

NOW = "2026-11-25T07:52:00+00:00"
LEG = "to-ridge-camp"
RUNS = ("takeoff", "landing")


@cache
def _demo() -> dict[str, Any]:
    return demo_bundle(NOW)


def demo() -> dict[str, Any]:
    return copy.deepcopy({name: _demo()[name] for name in ("documents", "open")})


def document(bundle: dict[str, Any], name: str) -> dict[str, Any]:
    return next(d for d in bundle["documents"] if d["id"] == name)


def entries(bundle: dict[str, Any]) -> list[dict[str, Any]]:
    return document(bundle, "dabchick-notebook")["entries"]


def ask(method: str, bundle: dict[str, Any], **more: Any) -> Any:
    reply = json.loads(handle(method, json.dumps({**bundle, **more})))
    assert "result" in reply, reply
    return reply["result"]


def leg(bundle: dict[str, Any], name: str = LEG) -> dict[str, Any]:
    return ask("answer", bundle, leg=name, now=NOW)["legs"][0]


def answer(told: dict[str, Any], question: str) -> dict[str, Any]:
    return next(one for one in told["answers"] if one["question"] == question)


def measure(told: dict[str, Any], question: str, name: str) -> dict[str, Any]:
    return next(m for m in answer(told, question)["measures"] if m["name"] == name)


def without(bundle: dict[str, Any]) -> dict[str, Any]:
    bundle["documents"] = [d for d in bundle["documents"] if d["kind"] != "notebook"]
    return bundle


def figures_as_without(bundle: dict[str, Any]) -> bool:
    """Whether the figures are those without a notebook, and what it tells of is no better than tight."""
    told, bare = leg(bundle), leg(without(demo()))
    held = 0
    for one, other in zip(told["answers"], bare["answers"], strict=True):
        said = [m["text"] for m in one["reasons"]]
        if "note.notebook_unused" in said:
            held += 1
            assert RANK[one["verdict"]] <= RANK["tight"]
        for part in ("margin", "measures", "working", "picture"):
            if one[part] != other[part]:
                return False
    return held == 3  # lifts off, climbs out, stops


def reasons(told: dict[str, Any]) -> list[str]:
    return [one["text"] for one in told["reasons"]]


# --- tune ------------------------------------------------------------------------------------------------


def test_the_demo_is_tuned():
    told = ask("tune", demo())
    assert told["usable"]
    assert told["reasons"] == []
    assert (told["aeroplane"], told["configuration"]) == ("dabchick", "shelf-out")
    by_name = {one["name"]: one for one in told["constants"]}
    assert all(one["value"] > 0 and 0 < one["sd"] <= one["prior_sd"] * 1.2 for one in told["constants"])
    # runs tell of the static thrust, level and climb of the thrust in flight
    assert by_name["static_thrust"]["told"] > 0.2
    assert by_name["thrust_constant"]["told"] > 0.3
    assert by_name["efficiency"]["told"] < 0.2
    assert [one["entry"] for one in told["suspects"]] == ["n9"]
    assert 0 < told["evaluations"] < 2000
    best = next(one for one in told["residuals"] if one["entry"] == "n8")
    assert not best["counts"]
    usual = [one for one in told["residuals"] if one["counts"] and one["slip"] < 0.5]
    assert all(one["low"] <= one["measured"] <= one["high"] for one in usual)
    narrows = [one["narrows"] for one in told["next"]]
    assert narrows == sorted(narrows, reverse=True)
    assert 0.0 < narrows[0] < 1.0


def test_the_tuned_constants_may_be_kept_and_do_not_count_twice():
    bundle = demo()
    first = ask("tune", bundle)
    plane = document(bundle, "dabchick")
    plane["prefer"] = {}
    old = next(s for s in plane["performance"] if s["source"] == "constants")
    plane["performance"] = [first["source"], *(s for s in plane["performance"] if s is not old)]
    kept = ask("tune", bundle)
    del plane["performance"][0]
    bare = ask("tune", bundle)
    # what was fitted to this notebook is no belief before it
    assert kept["constants"] == bare["constants"]
    plane["performance"].insert(0, old)
    assert ask("tune", bundle)["constants"] == first["constants"]


def test_an_aeroplane_of_a_class_alone_can_be_tuned():
    bundle = demo()
    plane = document(bundle, "dabchick")
    plane["prefer"] = {}
    plane["performance"] = [s for s in plane["performance"] if s["source"] != "constants"]
    told = ask("tune", bundle)
    assert told["usable"]
    assert any(one["text"] == "tune.assumed.usual" for one in told["assumed"])


#: what is taken from the first entry of a kind, and why it is then left out
LACKS = [
    ("takeoff", ("mass",), "tune.left.no_mass"),
    ("takeoff", ("pressure_altitude",), "tune.left.no_air"),
    ("takeoff", ("temperature",), "tune.left.no_air"),
    ("takeoff", ("headwind",), "tune.left.no_wind"),
    ("takeoff", ("slope", "strip"), "tune.left.no_slope"),
    ("takeoff", ("surface", "strip"), "tune.left.no_surface"),
    ("landing", ("headwind",), "tune.left.no_wind"),
    ("climb", ("mass",), "tune.left.no_mass"),
    ("cruise", ("flow",), "tune.left.no_flow"),
]


@pytest.mark.parametrize(("what", "fields", "reason"), LACKS)
def test_what_lacks_something_is_left_out_with_the_reason(what, fields, reason):
    bundle = demo()
    entry = next(e for e in entries(bundle) if e["what"] == what)
    for field in fields:
        del entry[field]
    told = ask("tune", bundle)
    assert {"entry": entry["id"], "reason": reason} in [
        {"entry": one["entry"], "reason": one["reason"]["text"]} for one in told["left_out"]
    ]
    assert entry["id"] not in {one["entry"] for one in told["residuals"]}


def test_a_speed_that_the_correction_does_not_reach_is_left_out():
    bundle = demo()
    entry = next(e for e in entries(bundle) if e["what"] == "stall")
    entry["indicated"]["value"] = 5.0
    del entry["indicated"]["typed"]
    told = ask("tune", bundle)
    assert (entry["id"], "tune.left.no_correction") in {
        (one["entry"], one["reason"]["text"]) for one in told["left_out"]
    }


def test_another_configuration_does_not_count():
    bundle = demo()
    for entry in entries(bundle):
        entry["configuration"] = "full" if entry["configuration"] != "full" else "shelf-out"
    names = {c["id"] for c in document(bundle, "dabchick")["configurations"]}
    other = (names - {"shelf-out"}).pop()
    for entry in entries(bundle):
        entry["configuration"] = other
    told = ask("tune", bundle, configuration="shelf-out")
    assert reasons(told) == ["tune.no_entries"]
    assert leg(bundle) == leg(without(demo()))


def test_a_notebook_that_contradicts_itself_is_told_and_not_used():
    bundle = demo()
    book = entries(bundle)
    run = next(e for e in book if e["what"] == "takeoff")
    del run["over_50ft"]
    for i, metres in enumerate((110.0, 420.0, 115.0, 400.0, 105.0, 430.0, 390.0)):
        one = copy.deepcopy(run) | {"id": f"x{i}"}
        one["roll"] = {"value": metres, "origin": "measured", "sd": 5.0}
        book.append(one)
    told = ask("tune", bundle)
    assert not told["usable"]
    assert reasons(told) == ["tune.contradicts"]
    assert told["source"] is None
    assert figures_as_without(bundle)


def test_a_fit_that_does_not_converge_says_so_and_changes_nothing(monkeypatch):
    from tussock.sums.tuning.fit import fit

    monkeypatch.setattr(tuning, "fit", lambda *given: fit(*given, most=40))
    bundle = demo()
    told = ask("tune", bundle)
    assert not told["usable"]
    assert not told["converged"]
    assert reasons(told) == ["tune.not_converged"]
    assert figures_as_without(bundle)


def test_an_engine_that_the_model_does_not_hold_for_is_not_tuned():
    bundle = demo()
    document(bundle, "dabchick")["engine"]["aspiration"] = "supercharged"
    told = ask("tune", bundle)
    assert reasons(told) == ["reason.supercharged"]
    document(bundle, "dabchick")["engine"]["aspiration"] = "natural"
    del document(bundle, "dabchick")["propeller"]["diameter"]
    assert reasons(ask("tune", bundle)) == ["tune.lacking"]


@pytest.mark.parametrize("field", ["aeroplane", "configuration"])
def test_an_unknown_name_is_refused(field):
    reply = json.loads(handle("tune", json.dumps({**demo(), field: "albatross"})))
    assert reply["error"]["code"] == "unknown_name"


def test_on_the_command_line(tmp_path, capsys):
    file = tmp_path / "demo.json"
    file.write_text(json.dumps(demo()), encoding="utf-8")
    assert cli.main(["tune", str(file)]) == 0
    said = capsys.readouterr().out
    assert "suspect: n9" in said
    assert "static thrust" in said
    assert cli.main(["tune", str(file), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["usable"]
    assert cli.main(["tune", str(file), "--aeroplane", "shelduck"]) == 1
    assert "NOT TUNED" in capsys.readouterr().out
    assert cli.main(["tune"]) == 2


# --- answers ---------------------------------------------------------------------------------------------


def test_without_a_notebook_there_is_no_band_anywhere():
    assert "band" not in json.dumps(leg(without(demo())))


def test_distances_show_their_band():
    told = leg(demo())
    for question, name in (
        ("lifts_off", "takeoff_distance"),
        ("lifts_off", "roll"),
        ("stops", "landing_distance"),
    ):
        band = measure(told, question, name)["band"]
        assert band["low"] < band["median"] < band["high"] == band["upper95"]
        assert band["source"] == "Dabchick's notebook"
    gradient = measure(told, "climbs_out", "gradient")["band"]
    assert gradient["low"] < gradient["median"] < gradient["high"]
    assert [one["kind"] for one in answer(told, "lifts_off")["picture"]["sources"]].count("notebook") == 1


def lengthen(bundle: dict[str, Any], factor: float, what: tuple[str, ...] = RUNS) -> dict[str, Any]:
    for entry in entries(bundle):
        if entry["what"] in what:
            for name in ("roll", "over_50ft"):
                if name in entry:
                    entry[name]["value"] *= factor
                    entry[name].pop("typed", None)
    return bundle


@settings(max_examples=12, deadline=None)
@given(st.floats(0.6, 2.2), st.sampled_from([LEG, "to-larkfield", "to-saltpan"]))
def test_nothing_gets_better_by_a_notebook(factor, name):
    with_it = leg(lengthen(demo(), factor), name)
    bare = leg(without(demo()), name)
    for one, other in zip(with_it["answers"], bare["answers"], strict=True):
        assert RANK[one["verdict"]] <= RANK[other["verdict"]]
    for question, part in (("lifts_off", "takeoff_distance"), ("stops", "landing_distance")):
        assert measure(with_it, question, part)["needed"] >= measure(bare, question, part)["needed"] - 1e-9


def test_an_aeroplane_that_takes_longer_than_its_book_is_believed():
    told = leg(lengthen(demo(), 2.0))
    part = measure(told, "lifts_off", "takeoff_distance")
    assert part["needed"] >= 1.33 * part["band"]["median"]
    assert part["needed"] > measure(leg(demo()), "lifts_off", "takeoff_distance")["needed"]
    assert told["verdict"] == "no"


def test_the_upper_end_decides_where_the_factor_is_small():
    bundle = lengthen(demo(), 1.6)
    owner = next(d for d in bundle["documents"] if d["kind"] == "settings")
    owner["takeoff_safety"] = 1.0
    told = leg(bundle)
    part = measure(told, "lifts_off", "takeoff_distance")
    assert part["needed"] == pytest.approx(part["band"]["upper95"])
    assert "note.band_decides" in [n["text"] for n in answer(told, "lifts_off")["notes"]]


def test_my_best_never_decides():
    bundle = demo()
    for entry in entries(bundle):
        if entry.get("technique") == "best":
            entry["roll"]["value"] = 60.0
            del entry["roll"]["typed"]
    assert [leg(bundle)["answers"]] == [leg(demo())["answers"]]
    before, after = ask("tune", demo()), ask("tune", bundle)
    assert after["constants"] == before["constants"]
    # it has an offset of its own
    assert after["technique"][0]["factor"] < before["technique"][0]["factor"] < 1.0


def heavier(bundle: dict[str, Any], mass: float) -> dict[str, Any]:
    """A weighing record that makes the empty aeroplane so much heavier [kg]."""
    plane = document(bundle, "dabchick")
    rig = next(c for c in plane["configurations"] if c["id"] == "shelf-out")
    rig.setdefault("changes", []).append(
        {"id": "ballast", "name": "Ballast", "mass": {"value": mass, "origin": "measured"},
         "arm": {"value": 0.3, "origin": "measured"}}
    )  # fmt: skip
    return bundle


def test_beyond_what_was_seen_the_band_widens_and_then_nothing_is_said():
    def width(told: dict[str, Any]) -> float:
        band = measure(told, "lifts_off", "takeoff_distance")["band"]
        return band["high"] / band["low"]

    inside, beyond = leg(heavier(demo(), -15.0)), leg(heavier(demo(), 45.0))
    assert width(beyond) > 1.02 * width(inside)
    far = answer(leg(heavier(demo(), 130.0)), "lifts_off")
    silent = [n["values"]["why"]["text"] for n in far["notes"] if n["text"] == "note.source_silent"]
    assert "reason.outside_seen" in silent
    assert RANK[far["verdict"]] <= RANK["can't say"]


@pytest.mark.parametrize(
    ("kinds", "question", "name"),
    [
        (("takeoff",), "lifts_off", "takeoff_distance"),
        (("landing",), "stops", "landing_distance"),
        (("climb", "level", "glide"), "climbs_out", "gradient"),
    ],
)
def test_a_single_entry_of_a_phase_bears_no_figure(kinds, question, name):
    def kept(count: int) -> dict[str, Any]:
        bundle = demo()
        book = document(bundle, "dabchick-notebook")
        usual = [e for e in book["entries"] if e["what"] in kinds and e.get("technique") != "best"]
        book["entries"] = [e for e in book["entries"] if e not in usual] + usual[:count]
        return leg(bundle)

    def silences(told: dict[str, Any]) -> list[str]:
        return [
            n["values"]["why"]["text"]
            for n in answer(told, question)["notes"]
            if n["text"] == "note.source_silent"
        ]

    two, one, none = kept(2), kept(1), kept(0)
    assert "band" in measure(two, question, name)
    assert "reason.too_few_noted" not in silences(two)
    assert "band" not in measure(one, question, name)
    if question != "climbs_out":  # there a silent source is told only where none can say
        assert "reason.too_few_noted" in silences(one)
    # one entry of a phase and none of it answer alike: by the other sources
    assert measure(one, question, name) == measure(none, question, name)


def test_where_a_single_entry_is_all_there_is_nothing_is_said():
    bundle = demo()
    book = document(bundle, "dabchick-notebook")
    runs = [e for e in book["entries"] if e["what"] == "takeoff" and e.get("technique") != "best"]
    plane = document(bundle, "dabchick")
    plane["prefer"], plane["performance"] = {}, []
    for run in runs:
        run["surface"] = "earth_dry"
    with_two = answer(leg(bundle), "lifts_off")
    assert any(m["name"] == "takeoff_distance" and "band" in m for m in with_two["measures"])
    book["entries"] = [e for e in book["entries"] if e not in runs[1:]]
    alone = answer(leg(bundle), "lifts_off")
    assert alone["verdict"] == "can't say"
    assert "reason.too_few_noted" in json.dumps(alone)


def test_a_surface_nobody_rolled_on_and_without_friction_is_silent():
    bundle = demo()
    trip = next(d for d in bundle["documents"] if d["kind"] == "trip")
    start = next(one for one in trip["legs"] if one["id"] == LEG)["from_strip"]
    document(bundle, start)["ground"]["state"]["surface"] = "paved_wet"
    told = answer(leg(bundle), "lifts_off")
    silent = [n["values"]["why"]["text"] for n in told["notes"] if n["text"] == "note.source_silent"]
    assert silent.count("missing.rolling_friction") == 2  # the constants and the notebook
    assert all("band" not in m for m in told["measures"])


@settings(max_examples=8, deadline=None)
@given(st.floats(-12.0, 12.0), st.floats(2.0, 15.0))
def test_hotter_is_never_better(start, step):
    def at(change: float) -> dict[str, Any]:
        bundle = demo()
        for one in bundle["documents"]:
            if one["kind"] == "air" and one.get("temperature") is not None:
                # dry enough that no dew point has to be asked for
                one |= {"temperature": one["temperature"] + change, "dew_point": 262.0}
        return leg(bundle)

    cool, hot = at(start), at(start + step)
    for question in ("lifts_off", "climbs_out"):
        assert RANK[answer(hot, question)["verdict"]] <= RANK[answer(cool, question)["verdict"]]
    parts = [measure(told, "lifts_off", "takeoff_distance") for told in (cool, hot)]
    if all("band" in part for part in parts):
        assert parts[1]["band"]["high"] >= parts[0]["band"]["high"] * 0.999


def test_the_fit_is_made_once_for_documents_that_stay(monkeypatch):
    made = []
    real = tuning.fit
    monkeypatch.setattr(tuning, "fit", lambda *given: made.append(1) or real(*given))
    tuning._KEPT.clear()
    bundle = demo()

    def as_texts() -> dict[str, Any]:
        return {**bundle, "documents": [json.dumps(d) for d in bundle["documents"]]}

    first = leg(as_texts())
    for one in bundle["documents"]:
        if one["kind"] == "air" and one.get("temperature") is not None:
            one["temperature"] += 2.0
    second = leg(as_texts())
    assert first != second
    assert len(made) == 1
    entries(bundle)[0]["roll"]["value"] = 130.0
    leg(as_texts())
    assert len(made) == 2
