"""Pure computations in trade units: the unit ends every argument's and every result's name."""

from collections.abc import Callable, Mapping
from functools import cache
from inspect import getdoc, isfunction
from itertools import takewhile
from types import MappingProxyType

from advisor.calculators import (
    adhesive,
    air,
    air_limits,
    batches,
    catalyst,
    climate,
    cure,
    cure_day,
    cure_heat,
    emission,
    exposure,
    fit_up,
    geometry,
    glass,
    knock_downs,
    laminate,
    laminate_response,
    laminate_theory,
    laminate_warp,
    lap_edges,
    lap_joint,
    lap_peak,
    micromechanics,
    movement,
    open_time,
    packs,
    patches,
    ply_stiffness,
    ply_strength,
    residual_load,
    resin,
    scarf,
    schedule,
    schedule_match,
    schedule_stiffness,
    sessions,
    softening,
    stiffness_match,
    thermal_joint,
)
from advisor.calculators.properties import MissingProperty
from advisor.calculators.ranges import OutOfRange, unit_of

__all__ = ["CALCULATORS", "MissingProperty", "OutOfRange", "formula_of", "source_of", "unit_of"]

_MODULES = (
    laminate,
    schedule,
    patches,
    glass,
    resin,
    catalyst,
    cure,
    batches,
    sessions,
    adhesive,
    open_time,
    packs,
    climate,
    movement,
    exposure,
    geometry,
    ply_stiffness,
    ply_strength,
    micromechanics,
    laminate_theory,
    laminate_response,
    laminate_warp,
    stiffness_match,
    schedule_match,
    schedule_stiffness,
    cure_day,
    cure_heat,
    softening,
    emission,
    air,
    air_limits,
    fit_up,
    residual_load,
    lap_joint,
    lap_peak,
    lap_edges,
    thermal_joint,
    knock_downs,
    scarf,
)

CALCULATORS: Mapping[str, Callable[..., object]] = MappingProxyType(
    {
        name: getattr(module, name)
        for module in _MODULES
        for name in module.__all__
        if isfunction(getattr(module, name))
    }
)
"""Every public function by its name."""


def formula_of(name: str) -> str:
    """Return the formula of one computation as its docstring states it; KeyError for an unknown name."""
    return _docstring_line(name, "Formula:")


def source_of(name: str) -> str:
    """Return the source of one computation as its docstring states it; KeyError for an unknown name."""
    return _docstring_line(name, "Source:")


@cache
def _docstring_line(name: str, heading: str) -> str:
    """Return the text after a heading together with its indented continuation lines."""
    lines = (getdoc(CALCULATORS[name]) or "").splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith(heading))
    continued = takewhile(lambda line: line.startswith(" "), lines[start + 1 :])
    return " ".join([lines[start].removeprefix(heading).strip(), *(line.strip() for line in continued)])
