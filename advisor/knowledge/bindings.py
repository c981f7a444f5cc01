"""`for_each`: the same rule for several facts or things."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product

from advisor.knowledge.model import Rule
from advisor.knowledge.rulebase import EVERY, Material, RuleBase


@dataclass(frozen=True)
class Binding:
    """What the names of a `for_each` stand for in one instance of a rule."""

    facts: Mapping[str, str]
    materials: Mapping[str, Material]

    @property
    def bound(self) -> bool:
        """Whether any name stands for something; else every instance of the rule says the same."""
        return bool(self.facts or self.materials)

    def fact(self, name: str) -> str:
        """A fact's name with a bound owner replaced: `face.family` becomes `face_a.family`."""
        owner, dot, rest = name.partition(".")
        return f"{self.facts.get(owner, owner)}{dot}{rest}"

    def material(self, name: str) -> tuple[Material, str] | None:
        """The thing and attribute that `candidate.gap_high` names, if its owner is bound to a thing."""
        owner, _, attribute = name.partition(".")
        return (self.materials[owner], attribute) if owner in self.materials else None

    def candidate(self, name: str) -> str:
        """A candidate's id; the bound name of a thing stands for that thing."""
        return self.materials[name].id if name in self.materials else name


UNBOUND = Binding({}, {})


def bindings(rule: Rule, rule_base: RuleBase) -> list[Binding]:
    """Every instance of a rule; one unbound instance when it has no `for_each`."""
    choices = [[(name, target) for target in _targets(targets, rule_base)]
               for name, targets in rule.for_each.items()]
    return [_binding(dict(pairs)) for pairs in product(*choices)]


def _targets(targets: tuple[str, ...], rule_base: RuleBase) -> list[str | Material]:
    if len(targets) == 1 and targets[0].startswith(EVERY):
        return list(rule_base.materials.get(targets[0].removeprefix(EVERY), {}).values())
    return list(targets)


def _binding(pairs: Mapping[str, str | Material]) -> Binding:
    return Binding({name: target for name, target in pairs.items() if isinstance(target, str)},
                   {name: target for name, target in pairs.items() if isinstance(target, Material)})


def stands_for(rule: Rule, name: str) -> list[str]:
    """The facts a name in a rule may stand for; `candidate.x` bound to things gives `every/kind.x`."""
    owner, dot, rest = name.partition(".")
    return [f"{target}{dot}{rest}" for target in rule.for_each.get(owner, (owner,))]
