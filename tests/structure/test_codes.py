"""Codes between two phones: every demo list goes across as a camera sees it, in at most four codes."""

from __future__ import annotations

import json
from pathlib import Path

from tussock.api import handle

from .test_shell import bundled, node

NOW = "2026-11-25T09:00:00+00:00"


def lists() -> list[str]:
    """The list of every leg of the demo, as its pilot's phone would write it."""
    demo = json.loads(handle("demo", json.dumps({"now": NOW})))["result"]
    found = []
    for trip in (one for one in demo["documents"] if one["kind"] == "trip"):
        for leg in trip["legs"]:
            params = {"bundle": json.dumps(demo), "trip": trip["id"], "leg": leg["id"], "now": NOW}
            reply = json.loads(handle("hand_over", json.dumps(params)))
            if "result" in reply:  # some legs are flown empty
                found.append(json.dumps(reply["result"], separators=(",", ":"), ensure_ascii=False))
    return found


def test_every_demo_list_goes_across_in_at_most_four_codes(tmp_path: Path) -> None:
    texts = lists()
    assert len(texts) >= 5
    given = json.dumps({"texts": texts, "seed": 20261125})
    answer = json.loads(node(bundled("codes.mjs", tmp_path), given=given))
    assert len(answer) == len(texts)
    for one in answer:
        assert one["codes"] <= 4
        assert one["read"] == one["codes"]
        assert one["same"], "to the letter"
        assert one["damaged"] == "hand.damaged"
