"""Every scenario gives the advice its `expect:` states, and everything that all advice owes a person.

`expect` may hold: status, method, one of the other decisions (a word or a list of acceptable words), cautions,
steps (texts that some step must contain), specification, conditions (the worst verdict of today), quantities
({item: [least, most]} in the unit shown), turn_to, checks ({name: verdict}), pivotal, assumed, questions_at_most,
review ({point: verdict}), review_says (texts that some point must contain).
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from advisor import answer_file
from advisor.audit.expectations import DECISIONS, unmet
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.consultation.texts import NOT_KNOWN

SCENARIOS = sorted((Path(__file__).parents[1] / "scenarios").glob("*.yaml"))
KNOWN = {"status", "method", *DECISIONS, "cautions", "steps", "specification", "conditions", "quantities",
         "turn_to", "checks", "pivotal", "assumed", "questions_at_most", "review", "review_says"}
MOST_QUESTIONS = 25


_SEEN: dict[Path, tuple[answer_file.AnswerFile, Advice]] = {}


def advised(path: Path, advisor: Advisor) -> tuple[answer_file.AnswerFile, Advice]:
    """The file and its advice, worked out once."""
    if path not in _SEEN:
        _SEEN[path] = advised_afresh(path, advisor)
    return _SEEN[path]


def advised_afresh(path: Path, advisor: Advisor) -> tuple[answer_file.AnswerFile, Advice]:
    file = answer_file.read(path)
    return file, advisor.consult(file.answers, file.title or path.stem, None, file.places).advice()


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_scenario_gives_what_it_expects(path: Path, advisor: Advisor) -> None:
    file, advice = advised(path, advisor)
    expect = file.expect or {}
    assert expect and set(expect) <= KNOWN
    assert unmet(expect, advice) == [], advice.verdict


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_a_case_sees_at_most_25_questions(path: Path, advisor: Advisor) -> None:
    file = answer_file.read(path)
    case = advisor.consult(title=path.stem)
    asked = 0
    while (question := case.next_question()) is not None:
        asked += 1
        case.answer(question.question, file.answers.get(question.question, "unknown"))
    most = int((file.expect or {}).get("questions_at_most", MOST_QUESTIONS))
    assert asked <= most


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_scenario_states_every_answer_that_matters_and_no_other(path: Path, advisor: Advisor) -> None:
    file, advice = advised(path, advisor)
    case = advisor.consult(file.answers)
    assert [line.question for line in advice.missing if line.question in advisor.rule_base.questions] == []
    if advice.status not in ("stop", "refer"):
        assert case.unused_answers() == []


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_what_all_advice_owes_a_person(path: Path, advisor: Advisor) -> None:
    _, advice = advised(path, advisor)
    text = advice.to_json()
    assert NOT_KNOWN not in text
    assert not re.search(r"\{[a-z_]+\}", " ".join(step.text for step in advice.steps))
    if advice.status in ("stop", "refer"):
        assert advice.turn_to and advice.method is None
        assert not (advice.steps or advice.quantities or advice.specification or advice.batches)
        return
    assert any(choice.chosen for choice in advice.choices)
    assert advice.steps and advice.cautions and advice.conditions
    assert [step.text for step in advice.steps if not (step.right_when and step.if_not)] == []
    for quantity in advice.quantities:
        assert quantity.amount is None or (quantity.unit and quantity.basis), quantity.item
        assert quantity.why.source
    for check in advice.checks:
        assert check.formula and check.source
    for why in (*(line.why for line in advice.specification), *(step.why for step in advice.steps)):
        assert why.because and why.source


def test_advice_is_the_same_byte_for_byte(advisor: Advisor) -> None:
    another = Advisor(advisor.rule_base)
    for path in SCENARIOS[::2]:
        assert advised(path, advisor)[1].to_json() == advised_afresh(path, another)[1].to_json()


def test_scenarios_cover_what_people_come_for(advisor: Advisor) -> None:
    found = [advised(path, advisor)[1] for path in SCENARIOS]
    assert len(found) >= 12
    assert {"bond", "laminate", "bond_and_laminate", "surface_repair", "inject"} <= {a.method for a in found}
    assert {"advice", "refer", "stop"} <= {a.status for a in found}
