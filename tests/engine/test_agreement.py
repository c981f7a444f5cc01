"""The engine agrees with a plain-Python oracle on thousands of random cases.

This is the proof that durable-rules is used safely; see the decision record on the engine.
"""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from advisor.consultation.evaluate import Evaluation, Evaluator
from advisor.engine.compile import compile_rules
from advisor.engine.infer import DurableChainer
from tests.engine.cases import random_answers, random_rule_base
from tests.engine.plain_chainer import PlainChainer

RULE_BASES = 40
CASES_EACH = 55


def picture(result: Evaluation) -> tuple[object, ...]:
    """What one evaluation comes to: facts with their values and firings with their support, order aside."""
    firings = Counter((firing.rule.rule.rule, firing.support) for firing in result.firings)
    return {fact.name: fact.value for fact in result.facts}, firings


@pytest.mark.parametrize("seed", range(RULE_BASES))
def test_engine_and_oracle_agree_on_random_rule_bases(seed: int) -> None:
    random = Random(seed)
    rule_base = random_rule_base(random)
    programs = compile_rules(rule_base)
    engine = Evaluator(rule_base, programs, DurableChainer(programs))
    oracle = Evaluator(rule_base, programs, PlainChainer(programs))
    for _ in range(CASES_EACH):
        given = random_answers(random)
        assert picture(engine.evaluate({}, final=True, given=given)) == picture(
            oracle.evaluate({}, final=True, given=given))


def test_the_random_cases_are_not_empty() -> None:
    random = Random(1)
    rule_base = random_rule_base(random)
    programs = compile_rules(rule_base)
    oracle = Evaluator(rule_base, programs, PlainChainer(programs))
    fired = [len(oracle.evaluate({}, final=True, given=random_answers(random)).firings) for _ in range(50)]
    assert sum(fired) > 200
