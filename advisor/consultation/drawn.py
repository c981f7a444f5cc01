"""The numbers of a case that drawings are made of, taken from the facts by what they are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from advisor.calculators.glass import RollCut
from advisor.calculators.packs import PackChoice
from advisor.calculators.patches import Patch
from advisor.calculators.schedule import Ply
from advisor.consultation import advice as a
from advisor.consultation.facts import Facts
from advisor.consultation.texts import Texts
from advisor.knowledge.model import UNKNOWN
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase

# The records that stand for the job itself, not for a plate made beforehand or a trial.
PLIES, PATCHES, ROLLS, PACKS = "ply_rows", "patch_rows", "roll_rows", "adhesive_packs"


def length(number: Number) -> a.Length:
    """A number as Advice has it."""
    return a.Length(low=number.low, likely=number.value, high=number.high, unit=number.unit)


def drawn_of(facts: Facts, rule_base: RuleBase, texts: Texts, parts: tuple[a.PartDrawn, ...]) -> a.Drawn:
    """The parts that rules name, every quantity and word of the case, and its plies, rolls and packs of adhesive."""
    numbers, words, labels = {}, {}, {}
    for fact in facts:
        if isinstance(fact.value, Number):
            numbers[fact.name] = length(fact.value)
        elif isinstance(fact.value, str) and fact.value != UNKNOWN:
            words[fact.name], labels[fact.name] = fact.value, texts.value(fact.name, fact.value)
    return a.Drawn(numbers=numbers, words=words, labels=labels, parts=parts, plies=tuple(_plies(facts, rule_base)),
                   rolls=tuple(_rolls(facts, rule_base)), packs_mL=tuple(_packs(facts.value(PACKS))))


def _records(facts: Facts, name: str, kind: type) -> list[Any]:
    value = facts.value(name) if name in facts else None
    return [one for one in value if isinstance(one, kind)] if isinstance(value, tuple) else []


def _label(rule_base: RuleBase, glass: str) -> str:
    return next((things[glass].thing.label for things in rule_base.materials.values() if glass in things), glass)


def _plies(facts: Facts, rule_base: RuleBase) -> Iterator[a.PlyDrawn]:
    patches: dict[int, Patch] = {patch.number: patch for patch in _records(facts, PATCHES, Patch)}
    for ply in _records(facts, PLIES, Ply):
        patch = patches.get(ply.number)
        yield a.PlyDrawn(number=ply.number, glass=_label(rule_base, ply.reinforcement), woven=ply.woven,
                         thickness_mm=ply.thickness_mm, length_mm=patch.length_mm if patch else None,
                         width_mm=patch.width_mm if patch else None)


def _rolls(facts: Facts, rule_base: RuleBase) -> Iterator[a.RollDrawn]:
    for roll in _records(facts, ROLLS, RollCut):
        yield a.RollDrawn(
            glass=_label(rule_base, roll.reinforcement), width_mm=roll.roll_width_mm,
            length_mm=roll.roll_length_m * 1000, pieces=tuple(
                a.PieceDrawn(ply=piece.patch_number, part=piece.part, parts=piece.part_count, x_mm=piece.x_mm,
                             y_mm=piece.y_mm, length_mm=piece.length_mm, width_mm=piece.width_mm)
                for piece in roll.pieces))


def _packs(value: object) -> Iterator[float]:
    """Large packs first, as they are opened."""
    if isinstance(value, PackChoice):
        for size, count in sorted(value.counts, reverse=True):
            yield from [float(size)] * count
