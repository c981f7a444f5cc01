"""The engine agrees with the plain-Python oracle on the real rule base, over random answers.

`python -m tests.engine.agreement --cases 20000` does the same on as many cases as wished.
"""

from __future__ import annotations

from random import Random

import pytest

from advisor.consultation.consult import Advisor
from advisor.consultation.evaluate import Evaluator
from advisor.engine.infer import MOST_REMEMBERED, DurableChainer
from advisor.engine.program import Programs
from tests.engine import agreement
from tests.engine.comparing import ComparingChainer, DisagreementError
from tests.engine.plain_chainer import PlainChainer
from tests.engine.test_agreement import picture
from tests.random_answers import answering_of, consistent_answers, random_answers

BLOCKS, WALKS, STEPS = 4, 20, 25
"""So many cases in all: their product, 2,000, and a block more of an engine that remembers."""
CHANGED = 3
WHOLE = 40


@pytest.fixture(scope="module")
def comparing(advisor: Advisor) -> dict[int, ComparingChainer]:
    programs = advisor.evaluator.programs
    return {remember: ComparingChainer(DurableChainer(programs, remember), PlainChainer(programs))
            for remember in (0, MOST_REMEMBERED)}


@pytest.mark.parametrize(("block", "remember"), [*((block, 0) for block in range(BLOCKS)), (BLOCKS, MOST_REMEMBERED)])
def test_engine_and_oracle_agree_in_every_stage_of_the_real_rules(
        block: int, remember: int, advisor: Advisor, comparing: dict[int, ComparingChainer]) -> None:
    """Each walk begins with fresh answers, without contradictions in every second one; each step changes a few.

    In the last block the engine remembers what it fired over facts that are alike.
    """
    both = comparing[remember]
    random, fired = Random(1000 + block), both.firings
    for walk in range(WALKS):
        evaluator = Evaluator(advisor.rule_base, advisor.evaluator.programs, both)
        typed = (consistent_answers if walk % 2 else random_answers)(advisor, random)
        case = advisor.consult(typed)
        for _ in range(STEPS):
            evaluator.evaluate(case.answers, final=True)
            for name in random.sample(sorted(typed), CHANGED):
                case.answer(name, answering_of(advisor, 0.15).one(name, random))
    assert both.firings - fired > 50 * WALKS * STEPS


def test_whole_consultations_on_the_oracle_alone_come_to_the_same(advisor: Advisor) -> None:
    """Here the oracle's own order of firing goes on from stage to stage."""
    engine, random = advisor.evaluator, Random(7)
    oracle = Evaluator(advisor.rule_base, engine.programs, PlainChainer(engine.programs))
    for number in range(WHOLE):
        answers = advisor.consult((consistent_answers if number % 2 else random_answers)(advisor, random)).answers
        for final in (True, False) if number % 5 == 0 else (True,):
            assert picture(engine.evaluate(answers, final=final)) == picture(oracle.evaluate(answers, final=final))


def test_cases_of_the_long_run_compare_stages() -> None:
    bench = agreement.Bench(1)
    found = [bench.compare(number) for number in range(12)]
    assert [one.disagreement for one in found] == [""] * 12
    assert sum(one.stages for one in found) > 30 and sum(one.firings for one in found) > 200


def test_a_difference_would_be_noticed(advisor: Advisor) -> None:
    programs: Programs = advisor.evaluator.programs
    short = {name: program if name != "choose" else type(program)(name, program.rules[1::2], program.markers,
                                                                  program.keys) for name, program in programs.items()}
    spoiled = ComparingChainer(PlainChainer(short), PlainChainer(programs))
    evaluator = Evaluator(advisor.rule_base, programs, spoiled)
    with pytest.raises(DisagreementError, match="stage choose: only the engine fired {}, only the oracle"):
        for number in range(20):
            evaluator.evaluate(advisor.consult(consistent_answers(advisor, Random(number))).answers, final=True)
