"""Track files: what is read in which dress, what is refused in words and where, what becomes of the runs."""

from __future__ import annotations

import base64
import json
from datetime import datetime
from typing import Any

import numpy as np
import pytest

from tussock import cli
from tussock.api import handle
from tussock.demo import demo_bundle
from tussock.documents import read_bundle
from tussock.tracks.decoding import LARGEST

from .made_tracks import Phone, Plane, circuit, watch
from .track_files import BEGAN, LATITUDE, LONGITUDE, gpx, stamp, table

TRUTH = circuit(Plane(lift_off=27.0, climb=33.0, touch=26.0, thrust=2.95))
FIXES = watch(TRUTH, Phone(), 0)
GPX, TABLE = gpx(FIXES), table(FIXES)


def ask(text: str | bytes, method: str = "track", **more: Any) -> dict[str, Any]:
    given = {"text": text} if isinstance(text, str) else {"base64": base64.b64encode(text).decode()}
    return json.loads(handle(method, json.dumps(given | more)))


def told(text: str | bytes, **more: Any) -> dict[str, Any]:
    reply = ask(text, **more)
    assert "result" in reply, reply
    return reply["result"]


def refused(text: str | bytes) -> dict[str, Any]:
    reply = ask(text)
    assert "error" in reply, reply
    return reply["error"]


WHOLE = told(GPX)


def rolls(found: dict[str, Any]) -> list[float]:
    return [run["figures"]["roll"]["value"] for run in found["runs"] if run["ok"] or run["rough"]]


def test_a_track_becomes_runs_and_entries() -> None:
    assert [run["what"] for run in WHOLE["runs"]] == ["takeoff", "landing"]
    assert all(run["ok"] or run["rough"] for run in WHOLE["runs"])
    takeoff, landing = WHOLE["runs"]
    assert takeoff["figures"]["roll"]["value"] == pytest.approx(TRUTH.runs[0]["roll"], rel=0.15)
    assert datetime.fromisoformat(takeoff["at"]).timestamp() == pytest.approx(
        BEGAN + TRUTH.runs[0]["at"], abs=3
    )
    assert [entry["what"] for entry in takeoff["entries"]] == ["takeoff", "climb"]
    assert takeoff["entries"][0]["roll"]["origin"] == "measured"
    assert takeoff["entries"][0]["roll"]["sd"] > 0
    assert "sink" in landing["figures"]
    first, last = takeoff["fixes"][0], takeoff["fixes"][-1]
    assert first[1] == 0.0
    assert last[1] > takeoff["figures"]["roll"]["value"]
    assert landing["fixes"][-1][0] <= landing["seconds"]["start"] + 1.0
    assert takeoff["bearing"] == pytest.approx(Phone().bearing, abs=0.05)


def test_an_entry_is_one_of_the_notebook() -> None:
    """With what the flight knows put in, the gate lets every proposed entry through."""
    bundle = demo_bundle("2026-11-25T08:00:00+00:00")
    book = next(one for one in bundle["documents"] if one["kind"] == "notebook")
    for run in WHOLE["runs"]:
        for k, entry in enumerate(run["entries"]):
            more = {"indicated": {"value": 30.0, "origin": "measured"}} if entry["what"] == "climb" else {}
            own = {"id": f"{run['id']}-{k}", "configuration": book["entries"][0]["configuration"]}
            book["entries"].append(entry | own | more)
    read_bundle(bundle)


def test_the_strip_and_the_direction_are_those_nearby() -> None:
    bundle = demo_bundle("2026-11-25T08:00:00+00:00")
    strip = next(one for one in bundle["documents"] if one["kind"] == "strip")
    bearing = strip["directions"][0]["bearing"]
    strip["position"] = {"latitude": LATITUDE + 0.002, "longitude": LONGITUDE}
    fixes = watch(TRUTH, Phone(bearing=bearing + 0.1), 0)
    takeoff = told(gpx(fixes), documents=[json.dumps(strip)])["runs"][0]
    assert (takeoff["strip"], takeoff["direction"]) == (strip["id"], strip["directions"][0]["id"])
    assert takeoff["entries"][0]["direction"] == strip["directions"][0]["id"]
    strip["position"]["latitude"] += 1.0
    assert told(gpx(fixes), documents=[json.dumps(strip)])["runs"][0]["strip"] is None


@pytest.mark.parametrize(
    "text",
    [
        gpx(FIXES, "1.0"),
        GPX.encode("utf-8-sig"),
        GPX.replace('encoding="UTF-8"', 'encoding="UTF-16"').encode("utf-16"),
        GPX.encode("utf-16-be"),
        GPX.replace("UTF-8", "ISO-8859-1").replace("<name>x", "<name>Mühle").encode("latin-1"),
        GPX.split("\n", 1)[1].replace("<name>x", "<name>Mühle").encode("latin-1"),
        TABLE,
        TABLE.replace("\n", "\r\n").encode("utf-16"),
        table(FIXES, "Zeit;Breite;Lon;Höhe (m);Speed [km/h]", 3.6).encode("latin-1"),
        table(FIXES, "timestamp,lat,lng,alt_m,ground speed kts", 3600 / 1852),
        table(FIXES, "when,latitude (deg),longitude (deg),ele,speed mph", 3600 / 1609.344),
        "# by hand\n\n" + TABLE.replace(",", "\t"),
    ],
)  # fmt: skip
def test_every_dress_of_the_same_track_tells_the_same(text: str | bytes) -> None:
    assert rolls(told(text)) == pytest.approx(rolls(WHOLE), rel=0.01)


def test_heights_in_feet_and_times_since_1970() -> None:
    lines = TABLE.splitlines()
    cells = [line.split(",") for line in lines[1:]]
    rows = [
        ",".join(
            [
                f"{datetime.fromisoformat(c[0]).timestamp():.2f}",
                c[1],
                c[2],
                f"{float(c[3]) / 0.3048:.2f}",
                c[4],
            ]
        )
        for c in cells
    ]
    found = told("\n".join(["time,lat,lon,altitude ft,speed m/s", *rows]))
    assert rolls(found) == pytest.approx(rolls(WHOLE), rel=0.01)
    assert found["runs"][0]["figures"]["rate"]["value"] == pytest.approx(
        WHOLE["runs"][0]["figures"]["rate"]["value"], rel=0.02
    )


def test_a_date_of_its_own_and_no_offset_is_said() -> None:
    lines = TABLE.replace("+00:00", "").splitlines()
    rows = [line.replace("T", ",", 1) for line in lines[1:]]
    found = told("\n".join(["date,time,lat,lon,height (m),speed (m/s)", *rows]))
    assert rolls(found) == pytest.approx(rolls(WHOLE), rel=0.01)
    assert "track.caution.utc" in [one["text"] for one in found["cautions"]]


BOMB = (
    '<?xml version="1.0"?>\n<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>\n'
    "<gpx><trk><name>&b;</name></trk></gpx>"
)
POINT = '<trkpt lat="{}" lon="{}"><time>{}</time></trkpt>'


def points(rows: list[tuple[Any, Any, str]]) -> str:
    return "<gpx><trk><trkseg>" + "\n".join(POINT.format(*row) for row in rows) + "</trkseg></trk></gpx>"


def standing(n: int = 30, **at: tuple[Any, Any, str]) -> list[tuple[Any, Any, str]]:
    rows: list[tuple[Any, Any, str]] = [(LATITUDE, LONGITUDE, stamp(k)) for k in range(n)]
    for name, row in at.items():
        rows[int(name.removeprefix("p"))] = row
    return rows


HOSTILE: dict[str, tuple[str | bytes, str, str, str]] = {
    "bomb": (BOMB, "not_supported", "/line/2", "document type"),
    "bomb in utf-16": (BOMB.encode("utf-16"), "not_supported", "/line/2", "document type"),
    "outside entity": (
        '<!DOCTYPE gpx SYSTEM "file:///etc/hostname"><gpx/>', "not_supported", "/line/1", "document type",
    ),
    "unknown entity": ("<gpx><trk>\n&b;</trk></gpx>", "not_supported", "/line/2", "broken XML"),
    "deep": ("<gpx>" + "<a>" * 4000, "too_deep", "/line/1", "nested"),
    "not gpx": ("<kml></kml>", "not_supported", "/line/1", "kml"),
    "cut off": (GPX[: len(GPX) // 2], "not_supported", "/line/", "broken XML"),
    "route": ('<gpx><rte><rtept lat="1" lon="1"/></rte></gpx>', "missing", "", "route"),
    "empty": (b"  \n ", "missing", "", "empty"),
    "zip": (b"PK\x03\x04" + b"\x00" * 50, "not_supported", "", "packed"),
    "binary": (bytes(range(256)), "not_supported", "", "no text"),
    "json": ('{"a": 1}', "not_supported", "", "JSON"),
    "encoding": (b'<?xml version="1.0" encoding="EBCDIC-CP-BE"?><gpx/>', "not_supported", "", "ebcdic"),
    "bad utf-8": (b'<?xml version="1.0" encoding="UTF-8"?><gpx>\xff\xfa</gpx>', "not_supported", "", "utf-8"),
    "few": (points(standing(4)), "missing", "", "4 fixes"),
    "no time": (points(standing(p7=(1, 1, ""))), "out_of_range", "/point/8", "point 8"),
    "no position": (points(standing(p7=("x", 1, stamp(7)))), "out_of_range", "/point/8", "point 8"),
    "off the earth": (points(standing(p9=(91, 1, stamp(9)))), "out_of_range", "/point/10", "point 10"),
    "infinite": (points(standing(p9=("inf", 1, stamp(9)))), "out_of_range", "/point/10", "point 10"),
    "1980": (points(standing(p0=(1, 1, "1980-01-06T00:00:00Z"))), "out_of_range", "/point/1", "point 1"),
    "a year on": (
        points([*standing(), *[(LATITUDE, LONGITUDE, stamp(4e7 + k)) for k in range(9)]]),
        "inconsistent", "/point/31", "463 days",
    ),
    "backwards": (
        points([*standing(), *[(LATITUDE, LONGITUDE, stamp(25.5 - k)) for k in range(20)]]),
        "inconsistent", "/point/31", "backwards",
    ),
    "jumping": (
        points([(LATITUDE + (k % 3 == 1), LONGITUDE, stamp(k)) for k in range(60)]),
        "inconsistent", "/point/1", "jumps",
    ),
    "no latitude": ("time,lon\n1,2\n", "missing", "/line/1", "latitude"),
    "no time column": ("latitude,lon\n1,2\n", "missing", "/line/1", "no time"),
    "speed without unit": (TABLE.replace("speed (m/s)", "speed"), "wrong_unit", "/line/1", "the speed"),
    "a word for a number": (TABLE.replace(f"{stamp(FIXES['times'][3])},", f"{stamp(FIXES['times'][3])},x"),
                            "not_a_number", "/line/5", "latitude"),
    "no such time": (TABLE.replace(stamp(FIXES["times"][3]), "noon"), "not_a_number", "/line/5", "noon"),
    "long line": (TABLE + "9" * 30_000, "too_large", "/line/", "too long"),
    "words": ("Dear diary, today\nwe flew.", "missing", "/line/1", "header"),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_refused_says_what_and_where(name: str) -> None:
    text, code, path, word = HOSTILE[name]
    error = refused(text)
    assert error["code"] == code
    assert error["path"].startswith(path)
    assert word in error["message"]
    assert len(error["expected"]) > 10


def test_a_hundred_megabytes_are_refused_unread() -> None:
    for given in ({"text": "x" * (LARGEST + 1)}, {"base64": "A" * (LARGEST * 4 // 3 + 100)}):
        error = json.loads(handle("track", json.dumps(given)))["error"]
        assert error["code"] == "too_large"
        assert f"{LARGEST // 1_000_000} MB" in error["message"]


def test_what_is_not_text_at_all() -> None:
    for given in ({}, {"text": 4}, {"base64": "???"}, {"base64": None}):
        assert "error" in json.loads(handle("track", json.dumps(given)))


def test_single_slips_are_left_out_and_said() -> None:
    at = 40
    fixes = {name: values.copy() for name, values in FIXES.items()}
    fixes["north"][at] += 40_000.0
    fixes["times"][at + 30] = fixes["times"][at + 29]
    found = told(gpx(fixes))
    assert {"track.caution.jumps", "track.caution.clock"} <= {one["text"] for one in found["cautions"]}
    assert rolls(found) == pytest.approx(rolls(WHOLE), rel=0.05)


def test_a_rough_roll_is_refused_and_offered_with_its_accuracy() -> None:
    noisy = watch(TRUTH, Phone(speed=0.28), 2)
    run = next(one for one in told(gpx(noisy))["runs"] if one["what"] == "takeoff")
    assert (run["ok"], run["rough"]) == (False, True)
    assert run["reason"]["text"] == "track.reason.too_vague"
    (entry, *_) = run["entries"]
    assert entry["roll"]["sd"] > 0.05 * entry["roll"]["value"]
    assert run["reason"]["values"]["sd"] == pytest.approx(entry["roll"]["sd"], rel=0.01)


def test_a_worse_receiver_by_its_own_word_has_wider_errors() -> None:
    lines = TABLE.splitlines()
    worse = "\n".join([lines[0] + ",accuracy (m)", *(line + ",18" for line in lines[1:])])
    run, usual = told(worse)["runs"][0], WHOLE["runs"][0]
    assert not run["ok"]
    assert not run["rough"] or run["figures"]["roll"]["sd"] > usual["figures"]["roll"]["sd"]


def test_a_track_without_runs_says_so() -> None:
    found = told(points(standing(60)))
    assert found["runs"] == []
    assert [one["text"] for one in found["cautions"]] == ["track.reason.no_run"]


def test_every_message_has_its_text() -> None:
    from tussock.text import catalogue

    for one in [*WHOLE["cautions"], *(c for run in WHOLE["runs"] for c in run["cautions"])]:
        assert one["text"] in catalogue()


# --- the command -----------------------------------------------------------------------------------------


def test_the_command_says_it_in_words_and_json(tmp_path, capsys) -> None:
    file = tmp_path / "flight.gpx"
    file.write_text(GPX, encoding="utf-8")
    assert cli.main(["track", str(file)]) == 0
    out = capsys.readouterr().out
    assert "Take-off" in out
    assert "Landing" in out
    assert " ± " in out
    assert cli.main(["track", "--json", str(file)]) == 0
    assert rolls(json.loads(capsys.readouterr().out)) == rolls(WHOLE)
    file.write_text(points(standing(60)), encoding="utf-8")
    assert cli.main(["track", str(file)]) == 1
    file.write_text(BOMB, encoding="utf-8")
    assert cli.main(["track", str(file)]) == 2
    assert "document type" in capsys.readouterr().err


def test_the_command_measures_a_walk(tmp_path, capsys) -> None:
    t = np.arange(0.0, 330.0)
    along = np.clip((t - 15) * 1.3, 0, 390.0)
    fixes = {"times": t, "east": along, "north": 0 * t, "height": 900 + 0 * t, "speed": np.gradient(along)}
    file = tmp_path / "walk.csv"
    file.write_text(table(fixes), encoding="utf-8")
    assert cli.main(["track", "--walk", "--json", str(file)]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["length"]["value"] == pytest.approx(390.0, abs=2.0)
    assert cli.main(["track", "--walk", str(file)]) == 0
    assert "Length: 39" in capsys.readouterr().out
