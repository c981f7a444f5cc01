"""The units that are understood, with their exact factors.

Factors are exact by definition: the inch, pound and US gallon (NIST SP 811, 2008, appendix B), the
imperial gallon of 4.54609 L (UK Units of Measurement Regulations 1995), standard gravity
9.80665 m/s2 (3rd CGPM, 1901), the thermochemical calorie of 4.184 J. Stated from memory and
compared in the tests with an independent units library.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

System = Literal["metric", "us", "none"]


@dataclass(frozen=True)
class Unit:
    """A unit: `value * factor + offset` is the value in the first unit of its dimension.

    `keys` are spellings as `spelling.unit_key` reduces them; `shown` is how it is printed.
    """

    symbol: str
    factor: Fraction
    system: System
    keys: tuple[str, ...] = ()
    shown: str = ""
    offset: Fraction = Fraction(0)

    @property
    def printed(self) -> str:
        """The unit as printed, `m²` for `m2`."""
        return self.shown or self.symbol


@dataclass(frozen=True)
class Dimension:
    """A kind of quantity: its units (the first is the base), how it is named, what to type."""

    name: str
    noun: str
    examples: tuple[str, ...]
    units: tuple[Unit, ...]
    signed: bool = False
    compound: bool = False

    @property
    def example(self) -> str:
        """What may be typed, in backticks."""
        return " or ".join(f"`{text}`" for text in self.examples)


def _unit(symbol: str, factor: Fraction | int | str, system: System, also: str = "", shown: str = "",
          offset: Fraction | int = 0) -> Unit:
    keys = tuple(key.strip() for key in also.split(",")) if also else ()
    return Unit(symbol, Fraction(factor), system, keys, shown, Fraction(offset))


_MM_PER_INCH = Fraction("25.4")
_GRAMS_PER_POUND = Fraction("453.59237")
_GRAMS_PER_OUNCE = _GRAMS_PER_POUND / 16
_ML_PER_IN3 = (_MM_PER_INCH / 10) ** 3
_ML_PER_GALLON = 231 * _ML_PER_IN3
_ML_PER_IMPERIAL_GALLON = Fraction("4546.09")
_M2_PER_FT2 = Fraction("0.3048") ** 2
_GRAVITY = Fraction("9.80665")
_NEWTONS_PER_LBF = _GRAMS_PER_POUND / 1000 * _GRAVITY
_MPA_PER_PSI = _NEWTONS_PER_LBF / _MM_PER_INCH**2
_KELVIN_PER_FAHRENHEIT = Fraction(5, 9)

DIMENSIONS: tuple[Dimension, ...] = (
    Dimension("length", "a length", ("12 mm", "1/2 in"), compound=True, units=(
        _unit("mm", 1, "metric"), _unit("um", "0.001", "metric", shown="µm"),
        _unit("cm", 10, "metric"), _unit("m", 1000, "metric"), _unit("km", 10**6, "metric"),
        _unit("in", _MM_PER_INCH, "us"), _unit("ft", 12 * _MM_PER_INCH, "us"),
        _unit("yd", 36 * _MM_PER_INCH, "us"), _unit("mil", _MM_PER_INCH / 1000, "us"))),
    Dimension("area", "an area", ("0.5 m2", "6 ft2"), units=(
        _unit("mm2", 1, "metric", shown="mm²"), _unit("cm2", 100, "metric", shown="cm²"),
        _unit("m2", 10**6, "metric", shown="m²"), _unit("in2", _MM_PER_INCH**2, "us", shown="in²"),
        _unit("ft2", (12 * _MM_PER_INCH) ** 2, "us", shown="ft²"),
        _unit("yd2", (36 * _MM_PER_INCH) ** 2, "us", shown="yd²"))),
    Dimension("volume", "a volume", ("250 mL", "8 fl oz"), units=(
        _unit("mL", 1, "metric"), _unit("L", 1000, "metric"), _unit("cm3", 1, "metric", shown="cm³"),
        _unit("m3", 10**6, "metric", shown="m³"),
        _unit("fl oz", _ML_PER_GALLON / 128, "us", "us fl oz, floz", "US fl oz"),
        _unit("pt", _ML_PER_GALLON / 8, "us", "us pt", "US pt"),
        _unit("qt", _ML_PER_GALLON / 4, "us", "us qt", "US qt"),
        _unit("gal", _ML_PER_GALLON, "us", "us gal", "US gal"),
        _unit("in3", _ML_PER_IN3, "us", shown="in³"), _unit("ft3", 1728 * _ML_PER_IN3, "us", shown="ft³"),
        _unit("imp fl oz", _ML_PER_IMPERIAL_GALLON / 160, "us"),
        _unit("imp pt", _ML_PER_IMPERIAL_GALLON / 8, "us"),
        _unit("imp qt", _ML_PER_IMPERIAL_GALLON / 4, "us"),
        _unit("imp gal", _ML_PER_IMPERIAL_GALLON, "us"))),
    Dimension("mass", "a mass", ("250 g", "8 oz"), compound=True, units=(
        _unit("g", 1, "metric"), _unit("mg", "0.001", "metric"), _unit("kg", 1000, "metric"),
        _unit("oz", _GRAMS_PER_OUNCE, "us"), _unit("lb", _GRAMS_PER_POUND, "us"))),
    Dimension("areal mass", "a mass per area", ("450 g/m2", "1 1/2 oz/ft2", "6 oz/yd2"), units=(
        _unit("g/m2", 1, "metric", "gsm", "g/m²"), _unit("kg/m2", 1000, "metric", shown="kg/m²"),
        _unit("oz/ft2", _GRAMS_PER_OUNCE / _M2_PER_FT2, "us", shown="oz/ft²"),
        _unit("oz/yd2", _GRAMS_PER_OUNCE / (9 * _M2_PER_FT2), "us", shown="oz/yd²"))),
    Dimension("coverage", "an area covered by a volume", ("10 m2/L", "400 ft2/gal"), units=(
        _unit("m2/L", 1, "metric", shown="m²/L"),
        _unit("ft2/gal", _M2_PER_FT2 * 1000 / _ML_PER_GALLON, "us", "ft2/us gal", "ft²/US gal"))),
    Dimension("temperature", "a temperature", ("20 C", "68 F"), signed=True, units=(
        _unit("C", 1, "metric", "c", "°C"),
        _unit("F", _KELVIN_PER_FAHRENHEIT, "us", "f", "°F", -32 * _KELVIN_PER_FAHRENHEIT),
        _unit("kelvin", 1, "metric", "k", "K", Fraction("-273.15")))),
    Dimension("temperature difference", "a temperature difference", ("10 C", "18 F"), signed=True, units=(
        _unit("K", 1, "metric", "k", "°C"), _unit("delta_C", 1, "metric", "c", "°C"),
        _unit("delta_F", _KELVIN_PER_FAHRENHEIT, "us", "f", "°F"))),
    Dimension("time", "a time", ("45 min", "1 h 30 min"), compound=True, units=(
        _unit("min", 1, "none"), _unit("s", Fraction(1, 60), "none"), _unit("h", 60, "none"),
        _unit("d", 1440, "none"), _unit("week", 10080, "none"))),
    Dimension("force", "a force", ("50 N", "10 lbf"), units=(
        _unit("N", 1, "metric"), _unit("kN", 1000, "metric"),
        _unit("kgf", _GRAVITY, "metric", "kg force, kg"),
        _unit("lbf", _NEWTONS_PER_LBF, "us", "lb force, lb"))),
    Dimension("line load", "a force per length", ("2 N/mm", "10 lbf/in"), units=(
        _unit("N/mm", 1, "metric"), _unit("N/m", "0.001", "metric"), _unit("kN/m", 1, "metric"),
        _unit("lbf/in", _NEWTONS_PER_LBF / _MM_PER_INCH, "us", "lb/in, pli"))),
    Dimension("stress", "a stress or pressure", ("5 MPa", "700 psi"), units=(
        _unit("MPa", 1, "metric", "n/mm2"), _unit("kPa", "0.001", "metric"), _unit("Pa", "0.000001", "metric"),
        _unit("GPa", 1000, "metric"),
        _unit("psi", _MPA_PER_PSI, "us", "lb/in2, lbf/in2"), _unit("ksi", 1000 * _MPA_PER_PSI, "us"))),
    Dimension("density", "a density", ("1200 kg/m3", "1.2 g/cm3"), units=(
        _unit("kg/m3", 1, "metric", shown="kg/m³"), _unit("g/cm3", 1000, "metric", shown="g/cm³"),
        _unit("g/mL", 1000, "metric"), _unit("kg/L", 1000, "metric"),
        _unit("lb/ft3", _GRAMS_PER_POUND * 1000 / (1728 * _ML_PER_IN3), "us", shown="lb/ft³"),
        _unit("lb/gal", _GRAMS_PER_POUND * 1000 / _ML_PER_GALLON, "us", "lb/us gal", "lb/US gal"))),
    Dimension("fraction", "a share", ("30 %",), units=(
        _unit("fraction", 1, "none", shown=""),
        _unit("percent", "0.01", "none", "%, /cent, % rh", "%"), _unit("g/kg", "0.001", "metric"),
        _unit("lb/short ton", "0.0005", "us"))),
    Dimension("mass rate", "a mass per time", ("0.5 kg/min", "1 lb/min"), units=(
        _unit("kg/min", 1, "metric"), _unit("g/min", "0.001", "metric"),
        _unit("lb/min", _GRAMS_PER_POUND / 1000, "us"))),
    Dimension("speed", "a length per time", ("2 m/min", "6 ft/min"), units=(
        _unit("m/min", 1, "metric"), _unit("m/s", 60, "metric"),
        _unit("ft/min", "0.3048", "us", "fpm"))),
    Dimension("expansion", "a thermal expansion", ("23 um/m/K", "13e-6/F"), signed=True, units=(
        _unit("um/m/K", 1, "metric", "um/m/c, um/mk, um/mc, 1e-6/k, 1e-6/c, ppm/k, ppm/c", "µm/m/K"),
        _unit("1/K", 10**6, "metric", "/k, /c, 1/c, m/m/k, m/m/c, mm/mm/k, mm/mm/c", "per K"),
        _unit("1e-6/F", 1 / _KELVIN_PER_FAHRENHEIT, "us", "ppm/f, uin/in/f", "µin/in/°F"),
        _unit("1/F", 10**6 / _KELVIN_PER_FAHRENHEIT, "us", "/f, in/in/f", "per °F"))),
    Dimension("molar energy", "an energy per mole", ("50 kJ/mol",), units=(
        _unit("kJ/mol", 1, "none"), _unit("J/mol", "0.001", "none"), _unit("kcal/mol", "4.184", "none"))),
    Dimension("per volume", "a number per volume", ("30 per mL",), units=(
        _unit("1/mL", 1, "none", "/ml, drop/ml", "per mL"),)),
    Dimension("count", "a whole number", ("3",), units=(_unit("count", 1, "none"),)),
    Dimension("air flow", "an air flow", ("200 m3/h", "120 cfm"), units=(
        _unit("m3/h", 1, "metric", shown="m³/h"), _unit("L/s", "3.6", "metric"),
        _unit("cfm", Fraction(60 * 1728, 10**6) * _ML_PER_IN3, "us", "ft3/min"))),
    Dimension("vapour concentration", "a mass of vapour per volume of air", ("85 mg/m3",), units=(
        _unit("mg/m3", 1, "none", shown="mg/m³"), _unit("g/m3", 1000, "none", shown="g/m³"))),
    Dimension("vapour share", "a share of vapour in air", ("20 ppm",), units=(_unit("ppm", 1, "none"),)),
    Dimension("molar mass", "a molar mass", ("104 g/mol",), units=(_unit("g/mol", 1, "none"),)),
    Dimension("air changes", "a number per hour", ("2 per h",), units=(
        _unit("1/h", 1, "none", "/h, air changes/h, ach", "per h"),)),
    Dimension("vapour rate", "a mass of vapour per time", ("50 g/h",), units=(_unit("g/h", 1, "none"),)),
    Dimension("energy", "an energy", ("5 J",), units=(_unit("J", 1, "none"), _unit("kJ", 1000, "none"))),
    Dimension("heat of reaction", "an energy per mass", ("300 kJ/kg",), units=(
        _unit("kJ/kg", 1, "none"), _unit("J/g", 1, "none"))),
    Dimension("energy per area", "an energy per area", ("1 kJ/m2",), units=(
        _unit("kJ/m2", 1, "none", "n/mm", "kJ/m²"), _unit("J/m2", "0.001", "none", shown="J/m²"))),
    Dimension("heat capacity", "a heat capacity", ("1800 J/kg/K",), units=(
        _unit("J/kg/K", 1, "none", "j/kg k, j/kg/c", "J/(kg K)"),)),
    Dimension("conductivity", "a conductivity of heat", ("0.2 W/m/K",), units=(
        _unit("W/m/K", 1, "none", "w/m k, w/m/c", "W/(m K)"),)),
    Dimension("heat transfer", "a heat transfer coefficient", ("10 W/m2/K",), units=(
        _unit("W/m2/K", 1, "none", "w/m2 k, w/m2/c", "W/(m² K)"),)),
    Dimension("irradiance", "a power per area", ("900 W/m2",), units=(_unit("W/m2", 1, "none", shown="W/m²"),)),
    Dimension("second moment of area", "a second moment of area", ("100 mm4",), units=(
        _unit("mm4", 1, "metric", shown="mm⁴"),)),
    Dimension("per length", "a number per length", ("0.5 per mm",), units=(
        _unit("1/mm", 1, "metric", "/mm", "per mm"), _unit("1/m", "0.001", "metric", "/m", "per m"))),
    Dimension("angle", "an angle", ("45 degrees",), signed=True, units=(
        _unit("degrees", 1, "none", "deg, degree, °", "°"),)),
)
