"""Whether a condition holds for the facts known: for questions, calculations, decisions and markers."""

from __future__ import annotations

from advisor.consultation.facts import Facts, is_told, posted_of
from advisor.engine.program import MARKED, Atom, Marker, Posted, Program, rounded
from advisor.knowledge.model import NUMBER_OPERATORS, Condition, Test


def holds(condition: Condition | None, facts: Facts) -> bool:
    """Whether all of a condition's tests hold; a missing fact satisfies none."""
    if condition is None:
        return True
    for test in condition.all:
        if not _holds(test, facts):
            return False
    return not condition.any or any(_holds(test, facts) for test in condition.any)


def undecided(condition: Condition | None, facts: Facts) -> bool:
    """Whether a condition does not hold yet but still may, once facts are known that it reads."""
    if condition is None or holds(condition, facts):
        return False
    return (all(_may_hold(test, facts) for test in condition.all)
            and (not condition.any or any(_may_hold(test, facts) for test in condition.any)))


def _may_hold(test: Test, facts: Facts) -> bool:
    return test.fact not in facts or _holds(test, facts)


def _holds(test: Test, facts: Facts) -> bool:
    if test.fact not in facts:
        return False
    if test.operator in NUMBER_OPERATORS:
        rights = test.values
        operators = ("at_least", "at_most") if test.operator == "between" else (test.operator,)
        return all(_compares(test.fact, operator, right, facts)
                   for operator, right in zip(operators, rights, strict=True))
    inside = any(word in test.values for word in facts.words(test.fact))
    return inside if test.operator in ("is", "one_of") else is_told(facts, test.fact) and not inside


def _compares(fact: str, operator: str, right: str, facts: Facts) -> bool:
    left = facts.number(fact)
    number = facts.number(right)
    if left is None or number is None:
        return False
    return Atom("", operator, rounded(number.in_unit(left.unit).value)).holds(Posted("", rounded(left.value)))


def marker_posts(program: Program, facts: Facts) -> list[Posted]:
    """The markers of a stage that hold for the facts known before it."""
    return [Posted(marker.key, MARKED) for marker in program.markers if _marker_holds(marker, facts)]


def _marker_holds(marker: Marker, facts: Facts) -> bool:
    if marker.operator == "is_not":
        return is_told(facts, marker.fact) and marker.other not in facts.words(marker.fact)
    return _compares(marker.fact, marker.operator, marker.other, facts)


def marker_support(key: str, program: Program, facts: Facts) -> list[str]:
    """The ids of the facts behind a marker that holds."""
    marker = next((m for m in program.markers if m.key == key), None)
    if marker is None:
        return []
    names = [marker.fact] if marker.operator == "is_not" else [marker.fact, marker.other]
    return [posted.id for name in names if (fact := facts.get(name)) for posted in posted_of(fact)]
