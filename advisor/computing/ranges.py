"""Ranges in, ranges out: a computation at every combination of the ends of its inputs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import product
from typing import Any

from advisor.knowledge.numbers import Number

MOST_CORNERS = 64


def results_at_corners(function: Callable[..., object], inputs: Mapping[str, Any]) -> list[Any]:
    """The result at the likely inputs first, then at every combination of low and high ends of those that are ranges.

    With more than six ranges only the likely result is given. Raises what the function raises at any corner.
    """
    likely = {name: likely_of(value) for name, value in inputs.items()}
    return [function(**likely), *(function(**corner) for corner in _corners(inputs, likely))]


def likely_of(value: Any) -> Any:
    """An input at its likely value, as the function takes it."""
    return _at(value, "value")


def _corners(inputs: Mapping[str, Any], likely: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    ranged = [name for name, value in inputs.items() if isinstance(value, Number) and value.is_range]
    if not ranged or 2 ** len(ranged) > MOST_CORNERS:
        return
    for ends in product(("low", "high"), repeat=len(ranged)):
        yield {**likely, **{name: _at(inputs[name], end) for name, end in zip(ranged, ends, strict=True)}}


def _at(value: Any, end: str) -> Any:
    if isinstance(value, list):
        return [_at(item, end) for item in value]
    return getattr(value, end) if isinstance(value, Number) else value
