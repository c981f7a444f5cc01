"""Computed records (plies, cut lists, packs, batches) as rows of the advice."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from typing import Any

from advisor.consultation.advice import Batch, Minutes
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase
from advisor.units import Systems, format_quantity, same_dimension, unit_of_name


def rows(record: Any, columns: Mapping[str, str], rule_base: RuleBase, system: str) -> tuple[dict[str, Any], ...]:
    """The rows of a computed list, or of the list inside a computed record, for the columns asked for."""
    found = _list_in(record, set(columns))
    return tuple({name: _cell(name, getattr(row, name, None), rule_base, system) for name in columns}
                 for row in found)


def _list_in(record: Any, wanted: set[str]) -> Iterable[Any]:
    if isinstance(record, tuple | list):
        return record
    if not dataclasses.is_dataclass(record):
        return ()
    lists = [value for field in dataclasses.fields(record)
             if isinstance(value := getattr(record, field.name), tuple) and value]
    fitting = [value for value in lists if wanted & {f.name for f in _fields(value[0])}]
    return fitting[0] if fitting else ()


def _fields(value: Any) -> tuple[dataclasses.Field[Any], ...]:
    return dataclasses.fields(value) if dataclasses.is_dataclass(value) else ()


def _cell(name: str, value: Any, rule_base: RuleBase, system: str) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        labels = [things[value].thing.label for things in rule_base.materials.values() if value in things]
        return labels[0] if labels else value
    unit = unit_of_name(name)
    if isinstance(value, int | float) and unit:
        return format_quantity(float(value), unit, system, reckoned=True)  # type: ignore[arg-type]
    return value


def packs_in(unit: str, system: str) -> Systems:
    """The system for packs: what is weighed in grams is bought by the kilogram too, with the pounds in brackets."""
    return "both" if system == "us" and same_dimension(unit, "g") else system  # type: ignore[return-value]


def packs_text(record: Any, unit: str, system: str) -> str | None:
    """`2 x 400 mL, 1 x 50 mL (30 mL left over)` from a choice of packs."""
    counts = getattr(record, "counts", None)
    if not counts:
        return None
    shown = packs_in(unit, system)
    parts = [f"{count} x {format_quantity(size, unit, shown)}" for size, count in counts]
    left = getattr(record, "left_over", 0.0)
    over = f" ({format_quantity(left, unit, shown, reckoned=True)} left over)" if left > 0 else ""
    return ", ".join(parts) + over


def batches(record: Any) -> list[Batch]:
    """The batches of a computed plan."""
    return [Batch(number=batch.number, mass_kg=round(batch.mass_kg, 4), start_min=round(batch.start_min, 1),
                  place_within_min=round(record.place_within_min, 2), stop_at_min=round(record.stop_at_min, 2))
            for batch in getattr(record, "batches", ())]


def minutes(time: Number) -> Minutes:
    """A number of any unit of time, in minutes."""
    in_minutes = time.in_unit("min")
    return Minutes(low=in_minutes.low, likely=in_minutes.value, high=in_minutes.high)
