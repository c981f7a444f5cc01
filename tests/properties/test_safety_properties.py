"""A sample of `python -m tests.properties.safety`, and what its parts find where something is wrong."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from advisor.consultation.consult import Advisor
from tests.properties import safety
from tests.properties.bare_numbers import bare
from tests.properties.monotony import ORDERED, compared

CASES = 24


@pytest.mark.timeout(240)
def test_nothing_unsafe_is_found(advisor: Advisor, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(safety, "advisor", lambda: advisor)
    found = Counter(safety.block("sample", 0, CASES))
    assert [text for kind, text in found if kind == safety.FAULT] == []
    assert found[safety.COUNT, "cases"] > CASES / 2
    assert found[safety.COUNT, "worse answers tried"] > 50 and found[safety.COUNT, "unrelated answers added"] > 10


@pytest.mark.parametrize("text", ["Keep 12 between them.", "Use 3 to 5.", "A load of 40 (20 to 60) is left."])
def test_a_number_without_unit_is_seen(text: str) -> None:
    assert list(bare(text))


@pytest.mark.parametrize("text", ["Keep 12 mm.", "3 to 5 plies", "40 (20 to 60) N", "with 240, 400 and 600 grit",
                                  "1 1/2 in wide", "the limit of NIOSH (2005)", "that is 8 : 1, where"])
def test_a_number_with_its_unit_is_none(text: str) -> None:
    assert not list(bare(text))


def test_an_order_that_is_the_wrong_way_round_is_seen(advisor: Advisor, monkeypatch: pytest.MonkeyPatch) -> None:
    """Were dry air the worse, the margins would say otherwise."""
    case = advisor.consult({
        "goal": "plan_joint", "item": "housing", "duty": "none_of_these", "site": "none_of_these",
        "health": "none_of_these", "load_class": "panel", "exposure": "weather", "joint_form": "lap",
        "joint_length": "600 mm", "air_temperature": "20 C", "relative_humidity": "84 percent", "gap_max": "1 mm",
        "closing": "by_fingers", "overlap_width": "30 mm", "face_a": "polyester_hand_laid",
        "face_b": "polyester_hand_laid"})
    better, tried = compared(case, most=8)
    assert tried and not [one for one in better if one.question == "relative_humidity"]
    order = replace(ORDERED["relative_humidity"], worse="down")
    monkeypatch.setattr("tests.properties.monotony.ORDERED", {**ORDERED, "relative_humidity": order})
    assert [one for one in compared(case, most=8)[0] if one.question == "relative_humidity"]
