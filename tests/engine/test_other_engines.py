"""The real rules and generated ones come to the same on the engine, on CLIPS and in plain Python.

`python -m tests.benchmarks engines growth` does this over more cases, and measures.
"""

from __future__ import annotations

import pytest

from advisor.consultation.consult import Advisor
from tests.benchmarks.cases import generated, given_to_the_engine
from tests.benchmarks.engines import disagreements, engines, fired
from tests.benchmarks.generated import generated as generated_rules
from tests.benchmarks.generated import some_facts
from tests.benchmarks.growth import staged
from tests.engine.plain_chainer import PlainChainer


def test_the_real_rules_on_every_engine(advisor: Advisor) -> None:
    pytest.importorskip("clips")
    programs = advisor.evaluator.programs
    oracle = PlainChainer(programs)
    given = [given_to_the_engine(advisor, case, oracle) for case in generated(advisor, 12, seed=7)]
    found = engines(programs)
    assert "CLIPS" in found
    assert disagreements(found, given) == []
    assert sum(len(fired(oracle.run, one)) for one in given) > 500


def test_a_disagreement_is_seen(advisor: Advisor) -> None:
    programs = advisor.evaluator.programs
    oracle = PlainChainer(programs)
    given = [given_to_the_engine(advisor, case, oracle) for case in generated(advisor, 1, seed=8)]
    found = {"whole": oracle.run, "lame": lambda stage, facts: oracle.run(stage, facts)[1:]}
    assert disagreements(found, given) == ["case 0: lame"]


@pytest.mark.parametrize(("rules", "facts"), [(100, 25), (1500, 120)])
def test_generated_rules_on_every_engine(rules: int, facts: int) -> None:
    programs = generated_rules(rules, facts)
    assert sum(len(program.rules) for program in programs.values()) == rules
    given = some_facts(facts, seed=3)
    found = {name: sorted((firing.rule.rule.rule, firing.support) for firing in staged(run, programs, given))
             for name, run in engines(programs).items()}
    oracle = found.pop("plain Python")
    assert len(oracle) > rules // 50
    assert all(others == oracle for others in found.values())
