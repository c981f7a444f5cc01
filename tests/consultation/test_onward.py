"""From judged damage, an explained failure or a checked plan straight on into the plan: nothing is asked twice."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import answer_file
from advisor.consultation.consult import Advisor, Consultation
from advisor.knowledge.model import UNKNOWN

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))
JUDGED = [path for path in SCENARIOS if "goal: judge_damage" in path.read_text(encoding="utf-8")]
OTHERS = [path for path in SCENARIOS
          if any(f"goal: {goal}" in path.read_text(encoding="utf-8") for goal in ("went_wrong", "check_plan"))]


def consulted(advisor: Advisor, path: Path) -> Consultation:
    file = answer_file.read(path)
    return advisor.consult(file.answers, file.title, places=file.places)


def asked_on(case: Consultation, answers: dict[str, str]) -> list[str]:
    """Go on with `answers` over the old ones, knowing nothing more; the questions that were asked."""
    for name, given in answers.items():
        case.answer(name, given)
    asked = []
    while (question := case.next_question()) is not None:
        asked.append(question.question)
        case.answer(question.question, some_answer(case, question.question) if question.essential == "yes" else UNKNOWN)
    return asked


def some_answer(case: Consultation, name: str) -> str:
    form = case.rule_base.facts[name]
    return next(iter(case.rule_base.values_of(form)), f"20 {form.unit}")


def test_every_kind_of_damage_that_can_be_found_can_also_be_planned(advisor: Advisor) -> None:
    found = set(advisor.rule_base.materials["damage"]) - {"no_damage"}
    assert found <= set(advisor.rule_base.values_of(advisor.rule_base.facts["damage_kind"]))


@pytest.mark.parametrize("path", JUDGED, ids=lambda path: path.stem)
def test_judged_damage_goes_on_to_the_same_way_of_mending(path: Path, advisor: Advisor) -> None:
    case = consulted(advisor, path)
    judged = case.advice()
    damage = next((choice.chosen for choice in judged.choices if choice.decision == "damage_found"), None)
    if damage in (None, "no_damage"):
        assert judged.onward == ()
        return
    (way,) = judged.onward
    assert way.answers == {"goal": "plan_repair", "damage_kind": damage}
    told = set(case.answers)
    asked = asked_on(case, way.answers)
    assert not set(asked) & told
    planned = case.advice()
    assert planned.status not in ("incomplete", "stop")
    assert planned.method == judged.method


@pytest.mark.parametrize("path", OTHERS, ids=lambda path: path.stem)
def test_what_failed_or_was_checked_goes_on(path: Path, advisor: Advisor) -> None:
    case = consulted(advisor, path)
    advice = case.advice()
    if advice.status in ("stop", "refer"):
        assert advice.onward == ()
        return
    for way in advice.onward:
        again = consulted(advisor, path)
        told = dict(again.answers)
        asked = asked_on(again, way.answers)
        assert again.answers["goal"].value in ("plan_joint", "plan_repair")
        assert not set(asked) & set(told)
        kept = {name for name in told if name not in way.answers and name in again.so_far().asked}
        assert {"item", "load_class"} <= kept
        assert again.advice().status != "incomplete"


def test_a_failure_that_only_wants_warmth_is_not_planned_anew(advisor: Advisor) -> None:
    """Resin that is slow in the cold and right in its mix hardens when warmed (polyester makers' common advice)."""
    path = next(path for path in SCENARIOS if path.stem == "wrong-cold-night-in-a-carport")
    assert consulted(advisor, path).advice().onward == ()
