"""How much of the trade the rules hold: floors, not aims."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from advisor import answer_file
from advisor.consultation.consult import Advisor
from advisor.handbook.lookup import everything
from advisor.knowledge import model as m

SCENARIOS = sorted((Path(__file__).resolve().parents[2] / "scenarios").glob("*.yaml"))


@pytest.mark.parametrize(("kind", "least"), [
    ("face", 20), ("adhesive", 10), ("resin", 6), ("reinforcement", 16), ("method", 9), ("damage", 12), ("cause", 35)])
def test_kinds_of_things(advisor: Advisor, kind: str, least: int) -> None:
    assert len(advisor.rule_base.materials[kind]) >= least


def test_entries(advisor: Advisor) -> None:
    base = advisor.rule_base
    steps = sum(isinstance(line, m.Step) for rule in base.rules.values() for line in rule.then)
    assert len(base.rules) >= 400
    assert len(base.questions) >= 90
    assert len(base.sources) >= 60
    assert steps + len(base.cautions) >= 120
    assert len(base.values_of(base.facts["exposure"])) >= 10
    assert sum(isinstance(line, m.Review) for rule in base.rules.values() for line in rule.then) >= 60


def test_symptoms_with_causes(advisor: Advisor) -> None:
    """Every symptom that a person can pick speaks for at least one cause."""
    base = advisor.rule_base
    symptoms = [(name, word) for name in base.questions if name.endswith("_symptom")
                for word in base.values_of(base.facts[name])]
    speaking = {(test.fact, word) for rule in base.rules.values() for test in rule.when.tests for word in test.values
                if any(isinstance(line, m.Evidence) and line.decision == "cause" for line in rule.then)}
    assert len(symptoms) >= 35
    assert not [pair for pair in symptoms if pair not in speaking and pair[1] != "other"]


def test_every_source_is_used(advisor: Advisor) -> None:
    base = advisor.rule_base
    assert not [entry.id for entry in everything(base) if entry.kind == "source" and not entry.uses]


def test_scenarios_of_each_goal() -> None:
    goals = Counter(str(answer_file.read(path).answers.get("goal")) for path in SCENARIOS)
    assert len(SCENARIOS) >= 40
    assert all(goals[goal] >= 7 for goal in ("plan_joint", "plan_repair", "judge_damage", "check_plan", "went_wrong"))


def test_refusals_among_the_scenarios(advisor: Advisor) -> None:
    refused = 0
    for path in SCENARIOS:
        file = answer_file.read(path)
        refused += advisor.consult(file.answers, places=file.places).advice().status in ("stop", "refer")
    assert refused >= 8
