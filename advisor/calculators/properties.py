"""Reading the properties of a reinforcement, which the caller hands over as plain mappings."""

from collections.abc import Mapping

from advisor.calculators.ranges import Range, require

__all__ = ["MissingProperty", "Reinforcements", "areal_mass_g_m2", "property_of"]

Reinforcements = Mapping[str, Mapping[str, float]]
"""Reinforcement id to its numeric properties, the unit in each property's name; `woven` is true or false."""

AREAL_MASS_G_M2 = Range(10, 5000)


class MissingProperty(LookupError):  # noqa: N818 - named as the reader would say it
    """A reinforcement, or a property that the computation needs of it, was not handed over."""


def property_of(reinforcements: Reinforcements, reinforcement: str, name: str, limits: Range) -> float:
    """Return one property of one reinforcement, checked against the limits.

    Raises MissingProperty when it is absent, OutOfRange when it is outside the limits.
    """
    if reinforcement not in reinforcements:
        raise MissingProperty(f"reinforcement `{reinforcement}` has no properties")
    if name not in reinforcements[reinforcement]:
        raise MissingProperty(f"`{name}` is missing for reinforcement `{reinforcement}`")
    value = reinforcements[reinforcement][name]
    require(limits, **{f"{reinforcement}.{name}": value})
    return value


def areal_mass_g_m2(reinforcements: Reinforcements, reinforcement: str) -> float:
    """Return the dry areal mass of one reinforcement, g/m2."""
    return property_of(reinforcements, reinforcement, "areal_mass_g_m2", AREAL_MASS_G_M2)
