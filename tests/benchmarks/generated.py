"""Invented rules of any number over any number of facts, for how engines take growth.

About one rule in ten fires, somewhat more than in a consultation; a fifth of the tests read what rules of the same or
an earlier stage concluded. A stage holds at most a thousand rules, as the limits of the engine would forbid much larger
ones (tests of one kind, facts told apart): so the real rules are split too.
"""

from __future__ import annotations

from random import Random

from advisor.engine.compile import compile_rules
from advisor.engine.program import Posted, Programs
from advisor.errors import Problem
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import RuleBase, build

MOST_IN_A_STAGE = 1000
WORDS = ("red", "green", "blue", "grey")
CONCLUDED_IN_A_STAGE = 40


def generated(rules: int, facts: int, seed: int = 1) -> Programs:
    """So many rules over so many facts, compiled.

    Raises:
        KnowledgeError: when a stage passes a limit of the engine.
    """
    return compile_rules(_rule_base(rules, facts, Random(seed)))


def some_facts(facts: int, seed: int) -> list[Posted]:
    """A value for each of so many facts: a word for most, a number for every tenth."""
    random = Random(seed)
    return [Posted(_name(number), float(random.randrange(20)) if number % 10 == 0 else random.choice(WORDS))
            for number in range(facts)]


def _name(number: int) -> str:
    return f"{'number' if number % 10 == 0 else 'word'}{number}"


def _rule_base(rules: int, facts: int, random: Random) -> RuleBase:
    stages = [f"stage{number}" for number in range(-(-rules // MOST_IN_A_STAGE))]
    entries: list[m.Entry] = [m.Stage(stage=stage, label=stage, topics=(stage,)) for stage in stages]
    entries += [m.Limit(limit=f"least{least}", label="invented", value=m.NumberText(likely=f"{least} mm"))
                for least in (10, 15)]
    entries += [m.FactForm(fact=name, label=name, kind="quantity" if number % 10 == 0 else "choice",
                           unit="mm" if number % 10 == 0 else None,
                           values={} if number % 10 == 0 else dict(zip(WORDS, WORDS, strict=True)))
                for number in range(facts) for name in [_name(number)]]
    entries += [m.FactForm(fact=f"{stage}_{number}", label=stage, kind="several",
                           values=dict(zip(WORDS, WORDS, strict=True)))
                for stage in stages for number in range(CONCLUDED_IN_A_STAGE)]
    entries += [_rule(number, facts, stages[number // MOST_IN_A_STAGE], stages, random) for number in range(rules)]
    problems: list[Problem] = []
    rule_base = build(entries, "generated", problems)
    assert not problems
    return rule_base


def _rule(number: int, facts: int, stage: str, stages: list[str], random: Random) -> m.Rule:
    first = second = _test(facts, stage, stages, random)
    while second.fact == first.fact:
        second = _test(facts, stage, stages, random)
    concluded = m.Conclude(does="conclude", fact=f"{stage}_{random.randrange(CONCLUDED_IN_A_STAGE)}",
                           value=random.choice(WORDS))
    return m.Rule(rule=f"{stage}.r{number}", says="invented", when=m.Condition(all=(first, second)), then=(concluded,),
                  because="invented", sources=("common-practice",), topic=stage)


def _test(facts: int, stage: str, stages: list[str], random: Random) -> m.Test:
    if random.random() < 0.2:
        earlier = stages[: stages.index(stage) + 1]
        return m.Test(fact=f"{random.choice(earlier)}_{random.randrange(CONCLUDED_IN_A_STAGE)}", operator="one_of",
                      values=(random.choice(WORDS),))
    name = _name(random.randrange(facts))
    if name.startswith("number"):
        return m.Test(fact=name, operator="at_least", values=(random.choice(("limit/least10", "limit/least15")),))
    return m.Test(fact=name, operator="one_of", values=(random.choice(WORDS),))
