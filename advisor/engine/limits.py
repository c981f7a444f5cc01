"""The engine's own limits, checked before it is given a program.

Past them durable-rules 2.0.28 hangs, crashes or matches wrongly without a word; the numbers stay below
the measured ones.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from advisor.engine.program import Program
from advisor.errors import Problem

MOST_KEYS = 500
MOST_SAME_CONDITIONS = 250
MOST_THRESHOLDS = 60
MOST_CONDITIONS = 15
MOST_RULES = 4000
MOST_TEXT_BYTES = 1000


def engine_problems(program: Program) -> list[Problem]:
    """What in a stage's program the engine could not take safely."""
    found = [Problem(f"stage `{program.stage}` {what}", None, "split the stage, or test derived facts")
             for what in (*_counts(program), *_collisions(program))]
    for rule in program.rules:
        if len(rule.groups) > MOST_CONDITIONS:
            found.append(Problem(f"`{rule.rule.rule}` tests {len(rule.groups)} facts, at most {MOST_CONDITIONS} "
                                 "are allowed", rule.rule.where, "conclude an intermediate fact"))
        if not rule.groups:
            found.append(Problem(f"`{rule.rule.rule}` has no condition left", rule.rule.where,
                                 "test at least one fact that is not fixed by `for_each`"))
    return found


def _counts(program: Program) -> Iterable[str]:
    if len(program.rules) > MOST_RULES:
        yield f"has {len(program.rules)} engine rules, at most {MOST_RULES} are allowed"
    if len(program.keys) > MOST_KEYS:
        yield f"tests {len(program.keys)} different facts, at most {MOST_KEYS} are allowed"
    groups = Counter(group for rule in program.rules for group in rule.groups)
    for group, times in groups.items():
        if times > MOST_SAME_CONDITIONS:
            yield f"tests `{group[0].key}` in the same way {times} times, at most {MOST_SAME_CONDITIONS} are allowed"
    thresholds = Counter(key for key, *_ in {(group[0].key, group) for group in groups
                                             if not isinstance(group[0].value, str)})
    for key, times in thresholds.items():
        if times > MOST_THRESHOLDS:
            yield f"compares `{key}` with {times} numbers, at most {MOST_THRESHOLDS} are allowed"


def _collisions(program: Program) -> Iterable[str]:
    """Names are told apart by a 32-bit hash alone inside the engine."""
    names = {*program.keys, *(str(atom.value) for rule in program.rules for group in rule.groups for atom in group)}
    ids = {posted.id for rule in program.rules for posted in rule.derives}
    seen: dict[int, str] = {}
    for name in sorted(names | ids | {"id", "sid", "k", "n", "s"}):
        if len(name.encode()) > MOST_TEXT_BYTES:
            yield f"uses a name of more than {MOST_TEXT_BYTES} bytes"
        other = seen.setdefault(fnv_32(name), name)
        if other != name:
            yield f"uses the names `{other}` and `{name}`, which the engine cannot tell apart"


def fnv_32(text: str) -> int:
    """The 32-bit FNV-1a hash of a text (Fowler, Noll, Vo; offset 2166136261, prime 16777619)."""
    value = 2166136261
    for byte in text.encode():
        value = ((value ^ byte) * 16777619) & 0xFFFFFFFF
    return value
