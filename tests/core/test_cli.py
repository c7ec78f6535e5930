"""The command: status 0 fine, 1 some answer is "no" or "can't say", 2 refused; JSON where asked for."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tussock import cli
from tussock.selftest import recovery

from . import case

AT = ["--now", case.NOW]


@pytest.fixture
def file(tmp_path: Path):
    """A function that writes documents to a file and gives its name."""

    def write(documents: case.Documents, name: str = "trip.json") -> str:
        path = tmp_path / name
        path.write_text(json.dumps({"documents": list(documents.values())}), encoding="utf-8")
        return str(path)

    return write


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = cli.main(list(arguments))
    out, err = capsys.readouterr()
    return status, out, err


def test_zero_when_every_answer_is_yes(capsys, file):
    status, out, err = run(capsys, "answer", file(case.base()), *AT)
    assert status == 0
    assert err == ""
    assert "Heath → Moor" in out
    assert "YES" in out
    assert out.count("yes") >= 6


def test_zero_when_the_worst_is_tight(capsys, file):
    documents = case.put(case.base(), "/settings/takeoff_safety", 1.1)
    status, out, _ = run(capsys, "answer", file(documents), *AT)
    assert status == 0
    assert "TIGHT" in out


@pytest.mark.parametrize(
    ("change", "word"),
    [
        (lambda d: case.put(d, "/lark/height", case.fig(2.0)), "NO"),
        (lambda d: case.drop(d, "/lark/mass"), "CAN'T SAY"),
    ],
)
def test_one_when_an_answer_is_no_or_cant_say(capsys, file, change, word):
    status, out, err = run(capsys, "answer", file(change(case.base())), *AT)
    assert status == 1
    assert word in out
    assert err == ""


def test_the_json_is_that_of_the_border(capsys, file):
    documents = case.base()
    status, out, _ = run(capsys, "answer", file(documents), "--json", *AT)
    assert status == 0
    assert json.loads(out)["legs"][0]["answers"] == case.leg(documents)["answers"]


def test_one_leg_one_trip(capsys, file):
    name = file(case.base())
    assert run(capsys, "answer", name, "--trip", "day-out", "--leg", "out", *AT)[0] == 0
    assert run(capsys, "answer", name, "--leg", "back", *AT)[0] == 2
    assert run(capsys, "answer", name, "--trip", "other", *AT)[0] == 2


def test_working_names_relation_and_source(capsys, file):
    status, out, _ = run(capsys, "answer", file(case.base()), "--working", *AT)
    assert status == 0
    assert "[" in out
    assert "ICAO" in out
    assert "→" in out


def test_remedies_stand_with_the_answers_they_turn(capsys, file):
    documents = case.put(case.base(), "/day-out/legs/out/fuel/main/volume", case.fig(0.022))
    status, out, _ = run(capsys, "answer", file(documents), "--remedies", "--json", *AT)
    assert status == 1
    reaches = next(a for a in json.loads(out)["legs"][0]["answers"] if a["question"] == "reaches")
    assert [one["kind"] for one in reaches["remedies"]] == ["fuel"]
    assert "more fuel" in run(capsys, "answer", file(documents), "--remedies", *AT)[1]


def refused(err: str) -> dict[str, Any]:
    found = json.loads(err)
    assert {"code", "path", "message", "expected"} <= set(found)
    return found


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "not_json"),
        ("{", "not_json"),
        ("[]", "wrong_type"),
        ('{"documents": [{"kind": "air", "id": "a", "name": "a", "at": 5}]}', "impossible"),
        ('{"documents": []}', "missing"),
        ('{"documents": [NaN]}', "not_json"),
        ("[" * 500, "too_deep"),
    ],
)
def test_two_and_json_on_standard_error_when_it_is_refused(capsys, tmp_path, text, code):
    path = tmp_path / "bad.json"
    path.write_text(text, encoding="utf-8")
    status, out, err = run(capsys, "answer", str(path), "--json", *AT)
    assert status == 2
    assert out == ""
    assert refused(err)["code"] == code
    status, out, err = run(capsys, "answer", str(path), *AT)
    assert status == 2
    assert out == ""
    assert err.startswith("refused: ")


def test_impossible_figures_say_where_they_are(capsys, file):
    documents = case.put(case.base(), "/lark/mass", case.fig(-5.0))
    status, _, err = run(capsys, "answer", file(documents), "--json", *AT)
    assert status == 2
    assert refused(err)["path"].endswith("/mass")


def test_no_such_file_and_no_text(capsys, tmp_path):
    status, _, err = run(capsys, "answer", str(tmp_path / "none.json"), "--json")
    assert status == 2
    assert refused(err)["code"] == "missing"
    binary = tmp_path / "binary.json"
    binary.write_bytes(b"\xff\xfe\x00")
    status, _, err = run(capsys, "answer", str(binary), "--json")
    assert status == 2
    assert refused(err)["code"] == "not_json"


@pytest.mark.parametrize("now", ["yesterday", "2026-05-20T09:40:00", ""])
def test_a_time_needs_its_offset(capsys, file, now):
    status, _, err = run(capsys, "answer", file(case.base()), "--json", f"--now={now}")
    if now:
        assert status == 2
        assert refused(err)["path"] == "/now"
    else:
        assert status in (0, 1)


def test_html_in_a_name_is_text(capsys, file):
    documents = case.base()
    documents["moor"]["name"] = "<b>Moor</b>"
    assert "<b>Moor</b>" in run(capsys, "answer", file(documents), *AT)[1]


def test_standard_input(capsys, monkeypatch):
    text = json.dumps({"documents": list(case.base().values())}).encode()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text)))
    assert run(capsys, "answer", "-", *AT)[0] == 0


def test_the_demo_through_a_pipe_is_answered():
    """As a person types it: two processes, the one's output the other's input."""
    made = subprocess.run([sys.executable, "-m", "tussock", "demo"], capture_output=True, check=True)
    asked = subprocess.run(
        [sys.executable, "-m", "tussock", "answer", "-"], input=made.stdout, capture_output=True
    )
    assert asked.returncode == 1
    assert asked.stderr == b""
    said = asked.stdout.decode()
    legs = len(json.loads(made.stdout)["documents"]) and said.count("→")
    assert legs >= 4
    assert "NO" in said
    assert "can't say" in said


def test_demo_now_is_the_time_of_its_air(capsys):
    status, out, _ = run(capsys, "demo", "--now", "2026-07-01T09:00:00+00:00")
    assert status == 0
    assert any(d["kind"] == "air" and d["at"].startswith("2026-07-01") for d in json.loads(out)["documents"])


def test_sums_are_listed_and_one_is_called(capsys):
    status, out, _ = run(capsys, "sums")
    assert status == 0
    assert "density_altitude" in out
    status, out, _ = run(capsys, "sums", "--json")
    assert {"name", "source", "inputs", "outputs"} <= set(json.loads(out)[0])
    status, out, _ = run(capsys, "sum", "isa_pressure", "altitude=5000 ft")
    assert status == 0
    status, out, _ = run(capsys, "sum", "isa_pressure", "altitude=1524", "--json")
    assert status == 0
    # ICAO Doc 7488/3: 5000 ft is 84,307 Pa
    assert json.loads(out)["outputs"]["isa_pressure"] == pytest.approx(84_307.0, rel=1e-4)


@pytest.mark.parametrize(
    ("arguments", "status", "code"),
    [
        (["nothing"], 2, "unknown_name"),
        (["isa_pressure"], 2, "missing"),
        (["isa_pressure", "altitude"], 2, "wrong_type"),
        (["isa_pressure", "altitude=5 kg"], 2, "wrong_unit"),
        (["isa_pressure", "height=5"], 2, "unknown_field"),
        (["isa_pressure", "altitude=nan"], 2, None),
        (["isa_pressure", "altitude=20000"], 1, None),
        (["mean_slope", "start=0", "distance=10", "lengths=[1,", "slopes=[0]"], 2, "not_a_number"),
    ],
)
def test_a_sum_refused_or_outside(capsys, arguments, status, code):
    found, out, err = run(capsys, "sum", *arguments, "--json")
    assert found == status
    if status == 2:
        assert out == ""
        told = refused(err)
        assert code in (None, told["code"])
    else:
        assert json.loads(out)["state"]


def test_the_schema_names_every_kind(capsys):
    status, out, _ = run(capsys, "schema")
    assert status == 0
    assert {"Aeroplane", "Strip", "Trip", "Notebook", "Lesson"} <= set(json.loads(out)["$defs"])


def test_the_fit_is_checked_on_invented_aeroplanes(capsys, monkeypatch):
    """The full 500 are run by hand; here a few, to see the shape of what is printed."""
    few = recovery.recovery(20)
    monkeypatch.setattr(recovery, "recovery", lambda: few)
    code, out, _ = run(capsys, "tune", "--selftest", "--json")
    assert code == (0 if recovery.meets(few) else 1)
    told = json.loads(out)
    assert set(told) == {"coverage90", "bias", "outlier_shift", "aeroplanes"}
    assert set(told["coverage90"]) == set(told["bias"]) == {"6", "12", "40"}
    good = few | {
        "coverage90": dict.fromkeys(few["coverage90"], 0.9),
        "bias": dict.fromkeys(few["bias"], 0.0),
        "outlier_shift": 0.01,
    }
    bad: tuple[dict[str, Any], ...] = (
        {"coverage90": {**good["coverage90"], "12": 0.86}},
        {"bias": {**good["bias"], "6": -0.03}},
        {"outlier_shift": 0.06},
    )
    for one, status in [({}, 0), *((wrong, 1) for wrong in bad)]:
        monkeypatch.setattr(recovery, "recovery", lambda one=one: good | one)
        code, out, _ = run(capsys, "tune", "--selftest")
        assert code == status
        assert "90 % band" in out


def test_pack_says_what_comes_and_where_and_that_nothing_is_worth_more(capsys, file):
    documents = case.base()
    case.put(documents, "/plover/bays/hold/volume", case.fig(0.040))
    status, out, _ = run(capsys, "pack", file(documents), *AT, "--json")
    told = json.loads(out)
    assert (status, told["proven"]) == (0, True)
    # 12 L must come, and of 22.5 L (tent, with the air round it) and 30 L (box) the one that is worth more
    assert {one["item"] for one in told["packed"]["comes"]} == {"survival", "tent"}
    assert told["bound"] == told["packed"]["worth"] == 5 + 6
    assert [edit["pointer"] for edit in told["packed"]["edits"]] == ["/loads/camping/placed/box/bay"]
    status, out, _ = run(capsys, "pack", file(documents), *AT)
    assert status == 0
    assert out.index("Stays behind") < out.index("  Box") < out.index("Hold") < out.index("  Tent")


def test_pack_says_so_when_what_must_come_does_not_go_in(capsys, file):
    documents = case.base()
    case.put(documents, "/plover/bays/hold/volume", case.fig(0.010))
    status, out, _ = run(capsys, "pack", file(documents), *AT)
    assert status == 1
    assert "Survival bag" in out
    assert json.loads(run(capsys, "pack", file(documents), *AT, "--json")[1])["packed"] is None


def test_pack_without_the_solver_says_what_is_missing(capsys, file, monkeypatch):
    monkeypatch.setitem(sys.modules, "highspy", None)
    status, _, err = run(capsys, "pack", file(case.base()), *AT)
    assert status == 2
    assert "tussock[packing]" in err
