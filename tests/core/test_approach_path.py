"""Things before a threshold are held against the owner's usual approach, where no constants tell one."""

from __future__ import annotations

from typing import Any

import pytest

from . import case

#: 4 m high, 300 m before the threshold: 15 m of clearance over it, less the screen of 50 ft, is 1.3 %
HEDGE = {"id": "hedge", "name": "hedge"}


def fig(value: float, origin: str = "measured") -> dict[str, Any]:
    return {"value": value, "origin": origin}


def landing(sources: str, path: dict[str, Any] | None) -> dict[str, Any]:
    documents = case.base(sources)
    hedge = {**HEDGE, "distance": fig(300.0), "height": fig(4.0)}
    for direction in documents["moor"]["directions"]:
        direction["approach"] = {"state": "listed", "obstacles": [hedge]}
    if path is not None:
        documents["plover"]["approach_gradient"] = path
    answer: dict[str, Any] = case.answers(documents)["stops"]
    return answer


def approach(answer: dict[str, Any]) -> dict[str, Any]:
    (measure,) = (one for one in answer["measures"] if one["name"] == "approach")
    return dict(measure)


@pytest.mark.parametrize("sources", ["book", "known"])
def test_without_it_a_book_cannot_say(sources: str) -> None:
    answer = landing(sources, None)
    assert answer["verdict"] == "can't say"
    assert approach(answer)["verdict"] == "can't say"
    assert "missing.approach_gradient" in str(answer["reasons"])


@pytest.mark.parametrize(("path", "verdict"), [(0.1, "yes"), (0.012, "no")])
def test_with_it_the_hedge_is_cleared_or_not(path: float, verdict: str) -> None:
    answer = landing("book", fig(path))
    measure = approach(answer)
    assert measure["verdict"] == verdict
    assert measure["available"] == path
    assert measure["needed"] == pytest.approx((4.0 + 15.0 - 15.24) / 300.0, rel=1e-3)
    assert answer["verdict"] == verdict


def test_an_estimated_one_gives_no_bare_yes() -> None:
    assert landing("book", fig(0.1, "estimated"))["verdict"] == "tight"


@pytest.mark.parametrize(("own", "counts"), [(0.05, 0.05), (0.2, 0.13)])
def test_the_shallower_of_own_and_constants_counts(own: float, counts: float) -> None:
    assert approach(landing("constants", fig(own)))["available"] == counts
