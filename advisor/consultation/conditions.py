"""Whether a condition holds for the facts known: for questions, calculations, decisions and markers."""

from __future__ import annotations

from advisor.consultation.facts import Facts, words_in
from advisor.engine.program import COMPARES, MARKED, Marker, Posted, Program, rounded
from advisor.knowledge.model import NEGATIVE_OPERATORS, NUMBER_OPERATORS, UNKNOWN, Condition, Test

Lacks = tuple[str, ...]
"""The facts of which one must come before a condition can hold that does not hold yet."""
AGAIN: Lacks = ("~again",)
"""What a condition lacks when any new fact may make it hold."""
NEVER: Lacks = ()
"""What a condition lacks when no further fact can make it hold: a fact known keeps its value."""


def holds(condition: Condition | None, facts: Facts) -> bool:
    """Whether all of a condition's tests hold; a missing fact satisfies none."""
    return wanting(condition, facts) is None


def wanting(condition: Condition | None, facts: Facts) -> Lacks | None:
    """What a condition lacks: None when it holds, the names of facts not known, AGAIN or NEVER."""
    if condition is None:
        return None
    for test in condition.all:
        lacks = _lacks(test, facts)
        if lacks is not None:
            return lacks
    if not condition.any:
        return None
    names: Lacks = ()
    for test in condition.any:
        lacks = _lacks(test, facts)
        if lacks is None:
            return None
        names += lacks
    return AGAIN if AGAIN[0] in names else names


def first_lack(condition: Condition | None) -> Lacks:
    """What a condition lacks where nothing is known yet."""
    return AGAIN if condition is None else condition.first_facts


def undecided(condition: Condition | None, facts: Facts) -> bool:
    """Whether a condition does not hold yet but still may, once facts are known that it reads."""
    if condition is None or holds(condition, facts):
        return False
    return (all(_may_hold(test, facts) for test in condition.all)
            and (not condition.any or any(_may_hold(test, facts) for test in condition.any)))


def _may_hold(test: Test, facts: Facts) -> bool:
    return test.fact not in facts or _lacks(test, facts) is None


def _lacks(test: Test, facts: Facts) -> Lacks | None:
    """What one test lacks, as `wanting` tells it."""
    fact = facts.get(test.fact)
    if fact is None:
        return (test.fact,)
    if test.operator in NUMBER_OPERATORS:
        operators = ("at_least", "at_most") if test.operator == "between" else (test.operator,)
        for operator, right in zip(operators, test.values, strict=True):
            if not _compares(test.fact, operator, right, facts):
                return NEVER if right in facts or facts.number(right) is not None else (right,)
        return None
    inside = not test.value_set.isdisjoint(fact.words)
    met = inside if test.operator not in NEGATIVE_OPERATORS else UNKNOWN not in fact.words and not inside
    return None if met else AGAIN if facts.gathers(test.fact) else NEVER


def _compares(fact: str, operator: str, right: str, facts: Facts) -> bool:
    left = facts.number(fact)
    number = facts.number(right)
    if left is None or number is None:
        return False
    return COMPARES[operator](rounded(left.value), rounded(number.in_unit(left.unit).value))


def marker_posts(program: Program, facts: Facts) -> list[Posted]:
    """The markers of a stage that hold for the facts known before it."""
    return [Posted(key, MARKED) for key, marker in program.marker_of.items() if _marker_holds(marker, facts)]


def _marker_holds(marker: Marker, facts: Facts) -> bool:
    if marker.operator == "is_not":
        fact = facts.get(marker.fact)
        return fact is not None and UNKNOWN not in (words := words_in(fact.value)) and marker.other not in words
    return _compares(marker.fact, marker.operator, marker.other, facts)


def marker_support(key: str, program: Program, facts: Facts) -> list[str]:
    """The ids of the facts behind a marker that holds."""
    marker = program.marker_of.get(key)
    if marker is None:
        return []
    names = [marker.fact] if marker.operator == "is_not" else [marker.fact, marker.other]
    return [posted.id for name in names if (fact := facts.get(name)) for posted in fact.posted]
