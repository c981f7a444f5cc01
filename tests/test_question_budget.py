"""Nobody is asked more than 25 questions (README), whatever they answer: random cases of every kind of planning."""

from __future__ import annotations

from random import Random

import pytest

from advisor.consultation.consult import Advisor
from tests.random_answers import consistent_answers

MOST_QUESTIONS = 25
CASES_EACH = 8
STOPPING = ("duty", "site", "health")


@pytest.mark.parametrize("goal", ["plan_joint", "plan_repair", "judge_damage"])
def test_no_random_case_sees_more_than_25_questions(goal: str, advisor: Advisor) -> None:
    random = Random(goal)
    for _ in range(CASES_EACH):
        # nothing that ends the interview early, and hardly an answer unknown: the longest interviews there are
        answers = consistent_answers(advisor, random, unknown=0.02) | {"goal": goal}
        answers |= {name: ["none_of_these"] for name in STOPPING}
        case = advisor.consult()
        asked: list[str] = []
        while (question := case.next_question()) is not None and len(asked) <= MOST_QUESTIONS:
            asked.append(question.question)
            case.answer(question.question, answers[question.question])
        assert len(asked) <= MOST_QUESTIONS, {name: answers[name] for name in asked}


def test_a_cold_falling_evening_lap_stays_within_25_questions(advisor: Advisor) -> None:
    answers = {
        "goal": "plan_joint", "item": "vehicle_body", "duty": ["none_of_these"], "site": ["none_of_these"],
        "health": ["none_of_these"], "load_class": "panel", "load_direction": "mixed", "loose_hazard": "yes",
        "exposure": ["weather", "heat"], "service_temperature": "80 C", "face_a": "polyester_hand_laid",
        "face_b": "wood", "surface_state": ["paint_filler"], "moisture": "damp", "panel_thickness": "3 mm",
        "joint_form": "lap", "joint_length": "900 mm", "overlap_width": "30 mm", "gap_max": "4 mm", "gap_usual": "2 mm",
        "closing": "light_clamps", "work_place": "outdoors", "air_temperature": "12 C",
        "relative_humidity": "78 percent",
        "surface_temperature": "10 C", "temperature_trend": "falling", "can_warm": "yes", "wishes": ["clean_look"],
        "crew": "first_alone"}
    case, asked = advisor.consult(), []
    while (question := case.next_question()) is not None:
        asked.append(question.question)
        case.answer(question.question, answers.get(question.question, "unknown"))
    assert "temperature_trend" in asked and "can_warm" in asked  # it is the cold evening that was meant
    assert len(asked) <= MOST_QUESTIONS, " ".join(asked)
