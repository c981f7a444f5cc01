"""Where too much is unknown, the short report says what to find out in place of a plan."""

from __future__ import annotations

from pathlib import Path

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.report.outline import outline

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def _advice(advisor: Advisor, name: str) -> Advice:
    file = answer_file.read(SCENARIOS / f"{name}.yaml")
    return advisor.consult(file.answers, places=file.places).advice()


def test_a_case_in_which_nothing_is_known_is_told_what_to_find_out(advisor: Advisor) -> None:
    advice = _advice(advisor, "nothing-known")
    assert advice.status == "advice" and advice.steps
    short = [one.id for one in outline(advice, advisor.rule_base)]
    assert short[:4] == ["stops", "verdict", "pivotal", "today"]
    assert not {"steps", "buy", "batches", "specification"} & {*short}
    assert "steps" in [one.id for one in outline(advice, advisor.rule_base, details=True)]


def test_a_case_in_which_one_answer_decides_still_has_its_plan(advisor: Advisor) -> None:
    short = [one.id for one in outline(_advice(advisor, "most-not-known"), advisor.rule_base)]
    assert "steps" in short and "buy" in short
