"""Every example beside the rules is a test under its own name, and every rule has an example that makes it fire."""

from __future__ import annotations

import pytest

from advisor.consultation.consult import Advisor
from advisor.consultation.stated import missed
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Example

EXAMPLES = load_rule_base().examples


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: f"{e.topic}: {e.example}")
def test_example(example: Example, advisor: Advisor) -> None:
    assert missed(example, advisor.evaluator) == [], example.where


@pytest.mark.parametrize("kind", ["fires", "silent"])
def test_every_rule_fires_in_one_example_and_is_silent_in_another(kind: str, advisor: Advisor) -> None:
    shown = {rule for example in EXAMPLES for rule in getattr(example, kind)}
    assert sorted(set(advisor.rule_base.rules) - shown) == []


def test_there_are_nearly_as_many_silences_as_firings() -> None:
    fires = sum(len(example.fires) for example in EXAMPLES)
    silent = sum(len(example.silent) for example in EXAMPLES)
    assert silent >= fires / 2
