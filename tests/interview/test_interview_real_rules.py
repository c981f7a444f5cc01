"""Interviews on the rules that come with the program, answered by a script, end in advice."""

from __future__ import annotations

import random

import pytest

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.interview import words
from advisor.interview.asker import Line
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import run

pytestmark = pytest.mark.timeout(110)

MOST_LINES = 600
AMOUNTS = ("20 C", "1 m", "50 mm", "3 mm", "1 mm", "60 %", "20 per mL", "450 g/m2", "250 mL", "1 kg", "2", "8 in", "75 F")


@pytest.fixture(scope="module")
def real() -> Advisor:
    return Advisor.from_folder()


def accepted(line: Line) -> list[str]:
    """Everything a script knows that the question would accept."""
    numbers = [str(number) for number in range(1, len(line.choices) + 1)]
    return [text for text in (words.UNKNOWN, *(numbers or AMOUNTS)) if text == words.UNKNOWN or line.taken_as(text)]


class Person:
    """Answers `I don't know` or by chance; never the same way twice where asked again."""

    def __init__(self, seed: int, knows: float) -> None:
        self.chance, self.knows, self.lines = random.Random(seed), knows, 0

    def __call__(self, line: Line) -> str:
        self.lines += 1
        assert self.lines < MOST_LINES, "the interview does not come to an end"
        if line.prompt == words.REVIEW_PROMPT:
            return ""
        known = accepted(line)[1:]
        assert known, "no answer in the script suits the question"
        if self.lines % 2 and self.chance.random() > self.knows:
            return words.UNKNOWN
        return self.chance.choice(known)


@pytest.mark.parametrize("goal", ["plan_joint", "plan_repair"])
def test_unknown_or_the_first_choice_throughout(real: Advisor, goal: str) -> None:
    refused = [False]
    shown: list[Advice] = []

    def typed(line: Line) -> str:
        if line.prompt == words.REVIEW_PROMPT:
            return ""
        refused[0] = not refused[0]  # every question is first answered with `unknown`, then properly
        last = asker.lines[-1] if asker.lines else ""
        needed = "Answer: unknown" in "".join(asker.lines[-6:]) and words.NEEDED not in last
        known = [text for text in accepted(line)[1:]]
        none_of_these = [str(n) for n, label in enumerate(line.choices, 1) if label.startswith("None of these")]
        return (none_of_these or known)[0] if needed else words.UNKNOWN

    asker = ScriptedAsker(typed)
    outcome = run(real, asker=asker, show_advice=shown.append, goal=goal, title="Walk")
    assert outcome.ended == "advised"
    assert [advice.status for advice in shown] != ["incomplete"]


@pytest.mark.parametrize("seed", range(6))
def test_answers_by_chance_come_to_an_end(real: Advisor, seed: int) -> None:
    shown: list[Advice] = []
    asker = ScriptedAsker(Person(seed, knows=seed / 5), width=80)
    outcome = run(real, asker=asker, show_advice=shown.append, title=f"Walk {seed}")
    assert outcome.ended == "advised"
    assert shown[0].status != "incomplete"
    assert max(map(len, asker.lines)) <= 80
