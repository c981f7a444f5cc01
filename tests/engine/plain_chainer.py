"""A forward chainer in plain Python: the oracle that the engine must agree with.

It knows nothing of durable-rules: all rules are tried over all facts until nothing new follows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product

from advisor.engine.program import Chainer, EngineRule, Firing, Posted, Programs


class PlainChainer:
    """Runs compiled programs by trying every rule until no rule fires any more."""

    def __init__(self, programs: Programs) -> None:
        self._programs = programs

    def outlined(self) -> Chainer:
        """This chainer; it leaves nothing out."""
        return self

    def run(self, stage: str, facts: Sequence[Posted]) -> list[Firing]:
        """Every firing of a stage over the facts and what its rules derive."""
        program = self._programs[stage]
        known = {fact.id: fact for fact in facts if fact.key in program.keys}
        fired: dict[tuple[str, tuple[str, ...]], Firing] = {}
        while True:
            by_key: dict[str, list[Posted]] = {}
            for fact in known.values():
                by_key.setdefault(fact.key, []).append(fact)
            fresh = [firing for rule in program.rules for firing in _firings(rule, by_key)
                     if (firing.rule.name, firing.support) not in fired]
            if not fresh:
                return list(fired.values())
            for firing in fresh:
                fired[firing.rule.name, firing.support] = firing
                known.update({fact.id: fact for fact in firing.rule.derives if fact.id not in known})


def _firings(rule: EngineRule, by_key: Mapping[str, Sequence[Posted]]) -> list[Firing]:
    matches: list[list[Posted]] = []
    for group in rule.groups:
        met = [fact for fact in by_key.get(group[0].key, ()) if all(atom.holds(fact) for atom in group)]
        if not met:
            return []
        matches.append(met)
    return [Firing(rule, tuple(fact.id for fact in ways)) for ways in product(*matches)
            if len({fact.id for fact in ways}) == len(ways)]
