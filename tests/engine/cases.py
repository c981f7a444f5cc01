"""Random rule bases and random facts for the agreement between the engine and the oracle."""

from __future__ import annotations

from random import Random
from typing import Any

from advisor.errors import Problem
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import RuleBase, build

STAGES = ("first", "second", "third")
WORDS = ("red", "green", "blue")
LIMITS = {"few": "2 mm", "some": "5.5 mm", "many": "0.9 cm"}


def random_rule_base(random: Random, rules: int = 30) -> RuleBase:
    """An invented rule base of three stages with word, several-word and number facts."""
    entries: list[m.Entry] = [m.Stage(stage=stage, label=stage, topics=(stage,)) for stage in STAGES]
    entries += [m.Limit(limit=name, label=name, value=m.NumberText(likely=value)) for name, value in LIMITS.items()]
    entries += [m.FactForm(fact=name, label=name, kind=kind, values={} if kind == "quantity" else _labels(),
                           unit="mm" if kind == "quantity" else None)
                for name, kind in _facts().items()]
    entries += [_rule(random, number) for number in range(rules)]
    problems: list[Problem] = []
    rule_base = build(entries, "random", problems)
    assert not problems
    return rule_base


def _labels() -> dict[str, str]:
    return {word: word for word in WORDS}


def _facts() -> dict[str, Any]:
    asked: dict[str, Any] = {f"word{i}": "choice" for i in range(4)} | {f"set{i}": "several" for i in range(2)}
    numbers = {f"number{i}": "quantity" for i in range(3)}
    derived = {f"{stage}_{i}": "several" for stage in STAGES for i in range(3)}
    return asked | numbers | derived


def _rule(random: Random, number: int) -> m.Rule:
    stage = random.choice(STAGES)
    tests = [_test(random, stage) for _ in range(random.randint(1, 2))]
    anys = [_test(random, stage) for _ in range(random.choice((0, 0, 2)))]
    conclusion = m.Conclude(does="conclude", fact=f"{stage}_{random.randrange(3)}", value=random.choice(WORDS))
    return m.Rule(rule=f"{stage}.r{number}", says="invented", when=m.Condition(all=tuple(tests), any=tuple(anys)),
                  then=(conclusion,), because="invented", sources=("common-practice",), topic=stage)


def _test(random: Random, stage: str) -> m.Test:
    earlier = STAGES[: STAGES.index(stage)]
    kind = random.choice(("word", "word", "not", "number", "compare", "own"))
    if kind == "number":
        operator: Any = random.choice(("below", "at_most", "above", "at_least"))
        return m.Test(fact=f"number{random.randrange(3)}", operator=operator,
                      values=(f"limit/{random.choice(list(LIMITS))}",))
    if kind == "compare":
        return m.Test(fact="number0", operator=random.choice(("below", "at_least")), values=("number1",))
    names = [f"word{i}" for i in range(4)] + ["set0", "set1"] + [f"{s}_{i}" for s in earlier for i in range(3)]
    if kind == "not":
        return m.Test(fact=random.choice(names), operator=random.choice(("is_not", "none_of")),
                      values=tuple(random.sample(WORDS, random.randint(1, 2))))
    names += [f"{stage}_{i}" for i in range(3)] if kind == "own" else []
    values = tuple(random.sample((*WORDS, m.UNKNOWN), random.randint(1, 2)))
    return m.Test(fact=random.choice(names), operator="one_of", values=values)


def random_answers(random: Random) -> dict[str, object]:
    """Random values of the asked facts; some are unknown, some not told."""
    from advisor.knowledge.numbers import exact
    values: dict[str, object] = {}
    for name in _facts():
        told = random.random()
        if told < 0.2 or name.split("_")[0] in STAGES:
            continue
        if name.startswith("number"):
            values[name] = m.UNKNOWN if told < 0.3 else exact(random.choice((0, 1, 2, 5, 5.5, 7.25, 9, 12)), "mm")
        elif name.startswith("set"):
            values[name] = tuple(random.sample(WORDS, random.randint(1, 3)))
        else:
            values[name] = m.UNKNOWN if told < 0.3 else random.choice(WORDS)
    return values
