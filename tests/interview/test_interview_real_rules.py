"""Interviews on the rules that come with the program, answered by a script, end in advice."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.interview import words
from advisor.interview.asker import Line
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import run
from advisor.store import Store

pytestmark = pytest.mark.timeout(110)

ROOT = Path(__file__).parents[2]
MOST_LINES = 600
AMOUNTS = ("20 C", "1 m", "50 mm", "3 mm", "1 mm", "60 %", "20 per mL", "450 g/m2", "250 mL", "1 kg", "2", "8 in",
           "75 F")


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
        if line.prompt in (words.REVIEW_PROMPT, words.ONWARD_PROMPT, words.ASK_PROMPT):
            return ""
        known = accepted(line)[1:]
        assert known, "no answer in the script suits the question"
        if self.lines % 2 and self.chance.random() > self.knows:
            return words.UNKNOWN
        return self.chance.choice(known)


class Novice:
    """Says `I don't know` wherever that is taken, else the first choice; where in dispute, the next one."""

    def __init__(self) -> None:
        self.last: Line | None = None
        self.times: dict[tuple[str, ...], int] = {}

    def __call__(self, line: Line) -> str:
        if line.prompt in (words.REVIEW_PROMPT, words.ONWARD_PROMPT, words.ASK_PROMPT):
            return ""
        if line is not self.last:
            self.last = line
            return words.UNKNOWN
        known = accepted(line)[1:]
        turn = self.times[tuple(line.choices)] = self.times.get(tuple(line.choices), -1) + 1
        assert turn < 40, "the interview does not come to an end"
        return known[(turn - 1 if line.several else turn) % len(known)]


@pytest.mark.parametrize("goal", ["plan_joint", "plan_repair"])
def test_dont_know_throughout_ends_in_advice(advisor: Advisor, goal: str) -> None:
    shown: list[Advice] = []
    asker = ScriptedAsker(Novice())
    outcome = run(advisor, asker=asker, show_advice=shown.append, goal=goal, title="Walk")
    assert outcome.ended == "advised"
    assert shown[0].status not in ("incomplete", "stop")
    assert shown[0].assumed


@pytest.mark.parametrize("seed", range(6))
def test_answers_by_chance_come_to_an_end(advisor: Advisor, seed: int) -> None:
    shown: list[Advice] = []
    asker = ScriptedAsker(Person(seed, knows=seed / 5), width=80)
    outcome = run(advisor, asker=asker, show_advice=shown.append, title=f"Walk {seed}")
    assert outcome.ended == "advised"
    assert shown[0].status != "incomplete"
    assert max(map(len, asker.lines)) <= 80


BUBBLE = Path(__file__).parents[2] / "scenarios" / "wrong-bubble-back-over-rot.yaml"


class GoesOn(Novice):
    """Goes on once when that is offered, after one slip, then answers as a novice."""

    def __init__(self) -> None:
        super().__init__()
        self.offers = ["9", "1"]

    def __call__(self, line: Line) -> str:
        if line.prompt == words.ONWARD_PROMPT:
            return self.offers.pop(0)
        return super().__call__(line)


def test_an_explained_failure_goes_on_into_the_plan_and_asks_nothing_twice(advisor: Advisor, tmp_path: Path) -> None:
    shown: list[Advice] = []
    store, file = Store(tmp_path / "kept"), answer_file.read(BUBBLE)
    asker = ScriptedAsker(GoesOn())
    outcome = run(advisor, asker=asker, show_advice=shown.append, answers=file, store=store)
    assert outcome.ended == "advised"
    explained, planned = shown
    assert explained.method is None and planned.method == "open_and_rebuild"
    assert outcome.advice == planned
    assert words.onward_again(len(explained.onward)) in " ".join(asker.text.split())
    asked_later = asker.text[asker.text.index(words.gone_on(explained.onward[0].say)[:40]):]
    for name in {*file.answers, *explained.onward[0].answers}:
        assert advisor.rule_base.questions[name].ask not in asked_later
    # The failure stays among the saved cases as it was, beside the plan.
    goals = sorted(str(store.load(name).answers["goal"]) for name in store.names())
    assert goals == ["plan_repair", "went_wrong"]


def test_leaving_where_going_on_is_offered_keeps_the_advice(advisor: Advisor) -> None:
    shown: list[Advice] = []
    asker = ScriptedAsker([""])  # the review; then Ctrl-D at the offer
    outcome = run(advisor, asker=asker, show_advice=shown.append, answers=answer_file.read(BUBBLE))
    assert outcome.ended == "advised" and outcome.advice == shown[0] and shown[0].onward


@pytest.mark.parametrize("name", ["hole-from-both-sides", "plan-fender-flange-in-us-units",
                                  "wrong-cold-night-in-a-carport"])
def test_the_estimate_of_questions_to_come_ends_where_the_interview_ends(advisor: Advisor, name: str) -> None:
    file = answer_file.read(ROOT / "scenarios" / f"{name}.yaml")
    case, told = advisor.consult(), []
    while (question := case.next_question()) is not None:
        told.append(case.about_how_many_more())
        case.answer(question.question, file.answers.get(question.question, "unknown"))
    to_come = range(len(told), 0, -1)
    assert told[-1] <= 2
    assert all(abs(estimate - truth) <= 2 for estimate, truth in list(zip(told, to_come, strict=True))[-5:])
    assert all(abs(estimate - truth) <= 12 for estimate, truth in zip(told, to_come, strict=True))
