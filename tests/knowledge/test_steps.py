"""Every step of the work says how long it takes, how to know that it is right, and what to do if it is not.

Over all rules, whether a scenario shows them or not. No step goes without, not even waiting and clearing up.
"""

from __future__ import annotations

import re

import pytest

from advisor.consultation.consult import Advisor
from advisor.knowledge import model as m

LONGEST, LONGEST_TIME = 140, 105  # in characters; a printed sheet has two or three pages
# A time is a number, a part of a day, or when it comes: nothing else can be planned by.
TELLS_A_TIME = re.compile(r"\d|\{|\b(minutes?|hours?|days?|nights?|overnight|weeks?|once|while|until|before)\b")


@pytest.fixture(scope="module")
def steps(advisor: Advisor) -> dict[tuple[str, str, int], m.Step]:
    """The steps by rule, phase and order."""
    return {(name, line.phase, line.order): line for name, rule in advisor.rule_base.rules.items()
            for line in rule.then if isinstance(line, m.Step)}


def test_each_step_tells_right_from_wrong(steps: dict[tuple[str, str, int], m.Step]) -> None:
    without = {name for name, step in steps.items() if not (step.right_when and step.if_not)}
    assert len(steps) > 200
    assert without == set()


def test_each_text_of_a_step_says_something_of_its_own(steps: dict[tuple[str, str, int], m.Step]) -> None:
    """No text of a step says what another text of it says already."""
    for name, step in steps.items():
        texts = [text.strip(" .").lower() for text in (step.do, step.hold, step.right_when, step.if_not) if text]
        assert not [text for text in texts for other in texts if text is not other and text in other], name


def test_what_to_look_for_is_short(steps: dict[tuple[str, str, int], m.Step]) -> None:
    long = {name: len(text) for name, step in steps.items() for text in (step.right_when, step.if_not)
            if text and len(text) > LONGEST}
    assert long == {}


def test_each_step_tells_a_time_to_plan_by(steps: dict[tuple[str, str, int], m.Step]) -> None:
    assert {name for name, step in steps.items() if not step.how_long} == set()
    vague = {name: step.how_long for name, step in steps.items() if not TELLS_A_TIME.search(step.how_long or "")}
    assert vague == {}
    assert {name: step.how_long for name, step in steps.items() if len(step.how_long or "") > LONGEST_TIME} == {}
