"""`I don't know` to any question is handled as the question says, and the advice says so."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from random import Random

import pytest

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor, Consultation
from advisor.errors import InputError
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import UNKNOWN
from tests.random_answers import consistent_answers

QUESTIONS = load_rule_base(examples=False).questions
ENDED = ("stop", "refer", "incomplete")
CASES = 200
SCENARIOS = sorted((Path(__file__).parents[1] / "scenarios").glob("*.yaml"))


@cache
def _asked_in(advisor: Advisor) -> dict[str, list[Consultation]]:
    """Random cases and the scenarios, by the questions they are asked."""
    found: dict[str, list[Consultation]] = {name: [] for name in QUESTIONS}
    goals = list(advisor.rule_base.facts["goal"].values)
    for seed in range(CASES):
        random = Random(seed)
        answers = consistent_answers(advisor, random, unknown=0.02)
        answers |= {"goal": goals[seed % len(goals)], "duty": ["none_of_these"], "site": ["none_of_these"],
                    "health": ["none_of_these"]}
        if seed % 10 == 0:  # a lap a few millimetres wide is seldom met by chance, and asks for more than others
            answers |= {"joint_form": "lap", "gap_max": "5 mm"}
        if seed % 10 == 1:  # one symptom of many, which alone asks for the thickness of the gel coat
            answers |= {"goal": "went_wrong", "failed_thing": "resin", "resin_symptom": "wrinkled"}
        if seed % 10 == 2:  # likewise, which alone asks where water comes in
            answers |= {"goal": "went_wrong", "failed_thing": "repair", "repair_symptom": "water_again"}
        case = advisor.consult(answers)
        if case.contradictions() or case.so_far().ended_by:
            continue
        for name in case.so_far().asked:
            found[name].append(case)
    for path in SCENARIOS:
        file = answer_file.read(path)
        case = advisor.consult(file.answers, places=file.places)
        for name in case.so_far().asked:
            found[name].append(case)
    return found


def _advice_without(case: Consultation, name: str) -> Advice | None:
    other = case.advisor.consult()
    other.answers.update({key: answer for key, answer in case.answers.items() if key != name})
    other.answer(name, UNKNOWN)
    try:
        advice = other.advice()
    except InputError:
        return None  # what is assumed contradicts another random answer
    rests_on_it = any(line.question == name for line in advice.assumed)
    return None if advice.status in ENDED and not rests_on_it else advice


@pytest.mark.parametrize("name", list(QUESTIONS))
def test_an_unknown_answer_is_told_with_what_was_taken_and_how_to_find_out(name: str, advisor: Advisor) -> None:
    told = QUESTIONS[name].dont_know
    assert told is not None and (told.assume or told.home_test)
    tried = 0
    for case in _asked_in(advisor)[name]:
        advice = _advice_without(case, name)
        if advice is None or tried == 6:
            continue
        tried += 1
        assumed = [line for line in advice.assumed if line.question == name]
        pivots = [pivot for pivot in advice.pivotal if pivot.question == name]
        if assumed:
            assert assumed[0].because and assumed[0].value
        if told.try_every == "yes" and advice.status not in ENDED:  # without a method no other value is tried
            assert len(pivots[0].outcomes) >= 2 and pivots[0].find_out
            assert pivots[0].matters == (len(set(pivots[0].outcomes.values())) > 1)
        if assumed or pivots:
            return
    pytest.fail(f"in {tried} random cases nothing that was advised rested on it")
