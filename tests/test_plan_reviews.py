"""Whatever a person plans: every point of the plan gets exactly one verdict, and no case sees too many questions."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor, Consultation
from advisor.consultation.texts import NOT_KNOWN
from tests.random_answers import consistent_answers

CASES = 60
MOST_QUESTIONS = 25
# What was asked about the plan, and how the points begin of which at least one must be there.
POINTS = {
    "planned_joining": ("Method",), "planned_mending": ("Method",), "planned_adhesive": ("Adhesive",),
    "planned_resin": ("Resin",), "planned_preparation": ("Grit", "Preparation"), "planned_bond_line": ("Bond line",),
    "planned_glass": ("Glass",), "planned_taper": ("Slope",), "planned_catalyst": ("Catalyst",),
    "planned_batch": ("Size of the batch",), "planned_fixing": ("Held while it cures",), "planned_cure": ("Time for",),
    "plan_special": ("What is unusual", "Glued socket", "Joint that moves", "Interlocking form", "Cast-in insert",
                     "Vacuum or infusion", "Hot cure", "Fibre other than glass")}


@cache
def reviewed() -> list[tuple[Consultation, Advice]]:
    """Random plans that are not stopped, with the advice on them."""
    advisor, random = Advisor.from_folder(), Random(4)
    found = []
    for _ in range(CASES):
        raw = consistent_answers(advisor, random, unknown=0.04)
        none = ["none_of_these"]
        raw |= {"goal": "check_plan", "duty": none, "site": none, "health": none}
        raw["item"] = "canopy" if raw["item"] == "boat_bottom" else raw["item"]
        raw["load_class"] = "structural" if raw["load_class"] == "safety_critical" else raw["load_class"]
        case = advisor.consult(raw)
        if not case.contradictions() and (advice := case.advice()).status in ("advice", "close_call"):
            found.append((case, advice))
    return found


def test_many_plans_are_reviewed() -> None:
    assert len(reviewed()) > CASES / 3


def test_every_point_of_a_plan_gets_exactly_one_verdict() -> None:
    for case, advice in reviewed():
        points = [line.about for line in advice.review]
        assert points and len(points) == len(set(points)), case.answers


def test_everything_that_was_planned_is_judged() -> None:
    for case, advice in reviewed():
        asked = [answer.question for answer in case.relevant_answers() if answer.question in POINTS]
        for question in asked:
            judged = [line for line in advice.review if line.about.startswith(POINTS[question])]
            assert judged, (question, {name: answer.typed for name, answer in case.answers.items()})


@pytest.mark.parametrize("verdict", ["sound", "change", "fails", "not_told"])
def test_every_verdict_is_given_for_a_reason(verdict: str) -> None:
    lines = [line for _, advice in reviewed() for line in advice.review if line.verdict == verdict]
    assert lines
    assert all(line.say and line.why.because and line.why.source and NOT_KNOWN not in line.say for line in lines)


def test_the_verdict_counts_the_points() -> None:
    for _, advice in reviewed():
        counted = len(advice.review)
        assert (f"the {counted} points" if counted > 1 else "The one point") + " of your plan" in advice.verdict


def test_nothing_is_reviewed_where_nothing_was_planned(advisor: Advisor) -> None:
    random = Random(5)
    for _ in range(10):
        raw = consistent_answers(advisor, random, unknown=0.03) | {"goal": random.choice(["plan_joint", "plan_repair"])}
        case = advisor.consult(raw)
        if not case.contradictions():
            assert case.advice().review == ()


def test_no_plan_takes_more_than_25_questions() -> None:
    for given, _ in reviewed()[:12]:
        case, asked = given.advisor.consult(), 0
        while (question := case.next_question()) is not None:
            asked += 1
            case.answers[question.question] = given.answers[question.question]
        assert asked <= MOST_QUESTIONS
