"""What a computation that is handed all things of a kind reads of them: which things, and which of their properties."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any

from advisor.calculators import CALCULATORS, MissingProperty, OutOfRange
from advisor.computing.ranges import likely_of
from advisor.consultation.calculate import inputs_of
from advisor.consultation.facts import Facts
from advisor.knowledge.model import Calculation
from advisor.knowledge.rulebase import EVERY, Material, RuleBase, as_arguments


class _Watched(Mapping[str, Any]):
    """A mapping that notes what is taken from it."""

    def __init__(self, held: Mapping[str, Any]) -> None:
        self.held, self.taken = held, dict[str, Any]()

    def __getitem__(self, key: str) -> Any:
        if key not in self.taken:
            found = self.held[key]
            self.taken[key] = _Watched(found) if isinstance(found, Mapping) else found
        return self.taken[key]

    def __contains__(self, key: object) -> bool:
        return key in self.held

    def __iter__(self) -> Iterator[str]:
        return iter(self.held)

    def __len__(self) -> int:
        return len(self.held)


def read_of_things(entry: Calculation, facts: Facts, rule_base: RuleBase) -> Iterator[tuple[Material, list[str]]]:
    """The things of a catalogue that a computation reads, each with the names of the properties read.

    The computation is made once more, at the likely values of its inputs.
    """
    kinds = {name: item.removeprefix(EVERY) for name, given in entry.inputs.items() for item in given
             if item.startswith(EVERY)}
    if not kinds:
        return
    inputs = {name: likely_of(value) for name, value in inputs_of(entry, facts, rule_base).items()}
    watched = {name: _Watched(inputs[name]) for name in kinds}
    with suppress(OutOfRange, MissingProperty, ValueError):  # what it read before that is still what it rests on
        CALCULATORS[entry.using](**{**inputs, **watched})
    for name, kind in kinds.items():
        for thing, properties in watched[name].taken.items():
            material = rule_base.materials[kind][thing]
            yield material, [attribute for attribute, value in material.values.items()
                             if any(key in properties.taken for key in as_arguments(attribute, value))]
