"""Pure computations in trade units: the unit ends every argument's and every result's name."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from importlib import import_module
from inspect import getdoc, isfunction
from itertools import takewhile

from advisor.calculators.properties import MissingProperty
from advisor.calculators.ranges import OutOfRange, unit_of

__all__ = ["CALCULATORS", "MODULES", "MissingProperty", "OutOfRange", "formula_of", "source_of", "unit_of"]

MODULES = (
    "laminate",
    "schedule",
    "patches",
    "glass",
    "resin",
    "catalyst",
    "cure",
    "batches",
    "sessions",
    "adhesive",
    "open_time",
    "packs",
    "climate",
    "movement",
    "exposure",
    "geometry",
    "ply_stiffness",
    "ply_strength",
    "micromechanics",
    "laminate_theory",
    "laminate_response",
    "laminate_warp",
    "stiffness_match",
    "schedule_match",
    "schedule_stiffness",
    "cure_day",
    "cure_heat",
    "softening",
    "emission",
    "air",
    "air_limits",
    "fit_up",
    "residual_load",
    "lap_joint",
    "lap_peak",
    "lap_edges",
    "bracket",
    "thermal_joint",
    "knock_downs",
    "scarf",
    "work_time",
)
"""The modules of computations, in the order in which they are told."""


class _Calculators(Mapping[str, Callable[..., object]]):
    """Every public function by its name; the modules are loaded when the first is asked for, to start sooner."""

    def __getitem__(self, name: str) -> Callable[..., object]:
        return _functions()[name]

    def __iter__(self) -> Iterator[str]:
        return iter(_functions())

    def __len__(self) -> int:
        return len(_functions())


@cache
def _functions() -> dict[str, Callable[..., object]]:
    modules = [import_module(f"{__name__}.{name}") for name in MODULES]
    return {
        name: getattr(module, name)
        for module in modules
        for name in module.__all__
        if isfunction(getattr(module, name))
    }


CALCULATORS = _Calculators()


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
