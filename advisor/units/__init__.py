"""What people type (`1/2 in`, `6 oz/yd2`, `68 F`) to numbers in the unit of the vocabulary, and back."""

from advisor.units.catalogue import DIMENSIONS, Dimension, System, Unit
from advisor.units.parse import parse_quantity
from advisor.units.present import ArealUnit, Systems, format_quantity, format_range, format_span
from advisor.units.quantity import Quantity, convert
from advisor.units.spelling import known_unit, same_dimension, unit_of_name

__all__ = [
    "DIMENSIONS", "ArealUnit", "Dimension", "Quantity", "System", "Systems", "Unit", "convert",
    "format_quantity", "format_range", "format_span", "known_unit", "parse_quantity", "same_dimension",
    "unit_of_name",
]
