"""The engine agrees with the plain-Python oracle on the real rule base, over random answers."""

from __future__ import annotations

from random import Random

import pytest

from advisor.consultation.consult import Advisor
from advisor.consultation.evaluate import Evaluator
from tests.engine.plain_chainer import PlainChainer
from tests.engine.test_agreement import picture
from tests.random_answers import consistent_answers, random_answers

CASES, BLOCKS = 250, 8


@pytest.mark.parametrize("block", range(BLOCKS))
def test_engine_and_oracle_agree_on_the_real_rules(block: int, advisor: Advisor) -> None:
    engine = advisor.evaluator
    oracle = Evaluator(advisor.rule_base, engine.programs, PlainChainer(engine.programs))
    random = Random(1000 + block)
    fired = 0
    for number in range(CASES):
        raw = consistent_answers(advisor, random) if number % 4 == 0 else random_answers(advisor, random)
        answers = advisor.consult(raw).answers
        for final in (True, False) if number % 5 == 0 else (True,):
            mine = engine.evaluate(answers, final=final)
            assert picture(mine) == picture(oracle.evaluate(answers, final=final))
            fired += len(mine.firings)
    assert fired > 50 * CASES
