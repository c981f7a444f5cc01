"""The generic numbers of what was chosen that are worth reading on a maker's sheet, those first on which most hangs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from advisor.consultation.advice import CheckLine
from advisor.consultation.dependence import DECIDES_MARGIN, weight_of_properties
from advisor.consultation.evaluate import Evaluation
from advisor.consultation.texts import Texts
from advisor.knowledge import model as m
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import Material, RuleBase

_LEAST_SHARE = 0.1
"""A number whose range is narrower than this share of it is not asked for, unless it is marked to be confirmed."""


@dataclass(frozen=True)
class ToRead:
    """A generic number of a thing that was chosen; `fact` is its name as a fact, such as `resin.gel_time`."""

    fact: str
    material: Material
    form: m.Attribute
    value: Number
    marked: bool

    @property
    def share(self) -> float:
        """How wide its range is, as a share of it."""
        return (self.value.high - self.value.low) / (abs(self.value.value) or 1.0)


def numbers_to_read(result: Evaluation, rule_base: RuleBase, texts: Texts, checks: Sequence[CheckLine]) -> list[ToRead]:
    """The numbers that the job reads, by how much depends on each, then by how wide their ranges are.

    Those marked to be confirmed, and others on which a thin, failing or doubtful margin rests and whose place on a
    sheet is known.
    """
    weights = weight_of_properties(result, texts, checks)
    found = [one for one in _generic(result, rule_base) if one.fact in weights and (one.marked or (
        one.form.where_on_sheet and weights[one.fact] >= DECIDES_MARGIN and one.share > _LEAST_SHARE))]
    return sorted(found, key=lambda one: (-weights[one.fact], -one.share))


def _generic(result: Evaluation, rule_base: RuleBase) -> Iterator[ToRead]:
    for choice in result.choices.values():
        kind = rule_base.decisions[choice.decision].of
        material = rule_base.materials[kind].get(choice.chosen or "")
        for name, written in (material.thing.attributes.items() if material else ()):
            value = material.values.get(name) if material else None
            if material and isinstance(written, m.NumberText) and isinstance(value, Number):
                yield ToRead(f"{choice.decision}.{name}", material, rule_base.kinds[kind].attributes[name], value,
                             written.confirm == "yes")
