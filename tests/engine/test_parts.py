"""A stage in parts: what can fire is run with what it reads, and nothing that could fire is left out."""

from __future__ import annotations

from random import Random

from advisor.consultation.consult import Advisor
from advisor.engine.compile import compile_rules
from advisor.engine.infer import DurableChainer
from advisor.engine.parts import Parts
from advisor.engine.program import Posted


def test_a_part_in_which_nothing_can_fire_is_not_run(advisor: Advisor) -> None:
    programs = compile_rules(advisor.rule_base)
    assert list(Parts(programs["review"]).to_run([Posted("goal", "plan_joint")])) == []


def test_topics_that_feed_each_other_are_not_parted(advisor: Advisor) -> None:
    for program in compile_rules(advisor.rule_base).values():
        for rules in Parts(program).rules:
            read = {group[0].key for rule in rules for group in rule.groups}
            others = [rule for rule in program.rules if rule not in rules]
            assert not read & {fact.key for rule in others for fact in rule.derives}


def test_parts_fire_what_the_whole_stage_fires(advisor: Advisor) -> None:
    """On facts drawn at random from what the rules of each stage read."""
    programs, random = compile_rules(advisor.rule_base), Random(4)
    chainer = DurableChainer(programs)
    fired = 0
    for stage, program in programs.items():
        words = sorted({(atom.key, atom.value) for rule in program.rules for group in rule.groups for atom in group},
                       key=str)
        for _ in range(20):
            facts = [Posted(key, value) for key, value in random.sample(words, min(len(words), random.randint(1, 60)))]
            facts = list({(fact.key, fact.value): fact for fact in facts}.values())
            parted = chainer.run(stage, facts)
            whole = chainer.run_rules(stage, program.rules, facts)
            assert {(one.rule.name, one.support) for one in parted} == {(one.rule.name, one.support) for one in whole}
            fired += len(whole)
    assert fired > 500
