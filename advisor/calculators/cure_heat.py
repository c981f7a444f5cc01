"""Heat of a cure: the bound without any loss, the peak of a layer on its backing, and layers in one session."""

from dataclasses import dataclass

from advisor.calculators.cure import ACTIVATION_ENERGY_KJ_MOL, TEMPERATURE_C
from advisor.calculators.curing_layer import Kinetics, Slab, Surroundings, march
from advisor.calculators.ranges import Range, require

__all__ = ["CurePeak", "LayersBelowPeak", "adiabatic_rise_K", "cure_peak", "layers_below_peak"]

HEAT_OF_REACTION_KJ_KG = Range(10, 1000)
RESIN_FRACTION = Range(0.05, 1)
LAYER_THICKNESS_MM = Range(0.2, 200)
LAYER_DENSITY_KG_M3 = Range(500, 3000)
LAYER_HEAT_CAPACITY_J_KG_K = Range(500, 4000)
LAYER_CONDUCTIVITY_W_M_K = Range(0.02, 5)
BACKING_THICKNESS_MM = Range(0.1, 500)
BACKING_DENSITY_KG_M3 = Range(10, 9000)
BACKING_HEAT_CAPACITY_J_KG_K = Range(100, 4000)
BACKING_CONDUCTIVITY_W_M_K = Range(0.01, 400)
GEL_TIME_MIN = Range(1, 2000)
GEL_CONVERSION_FRACTION = Range(0.01, 0.9)
REACTION_ORDER = Range(0.5, 3)
ACCELERATION_ORDER = Range(0, 0.9)
AIR_TEMPERATURE_C = Range(-10, 60)
TRANSFER_W_M2_K = Range(0, 500)
DURATION_H = Range(0.1, 72)
PLY_THICKNESS_MM = Range(0.1, 9)
PEAK_LIMIT_C = Range(20, 300)
MOST_LAYERS = 20
RUNAWAY_SHARE = 0.95  # below this share of the rise without loss the march is converged to 1 K (measured)


@dataclass(frozen=True, slots=True)
class CurePeak:
    """The hottest moment of a curing layer.

    `peak_passed` false means that it was still warming when time was up; `runs_away` that nearly all the heat stayed in
    some place: read the peak as "at least as hot as without any loss", not as a number.
    """

    peak_C: float
    peak_time_min: float
    peak_depth_mm: float
    interface_peak_C: float
    conversion_fraction: float
    peak_passed: bool
    no_loss_peak_C: float
    runs_away: bool
    energy_balance_error_fraction: float


@dataclass(frozen=True, slots=True)
class LayersBelowPeak:
    """Layers that may follow each other in a session; a count of 0 means that even one gets too hot."""

    layer_count: int
    thickness_mm: float
    peak_C: float
    peak_with_one_more_C: float


def adiabatic_rise_K(
    heat_of_reaction_kJ_kg: float, resin_by_mass_fraction: float, heat_capacity_J_kg_K: float
) -> float:
    """How much a mix would warm itself if no heat got out: what the middle of a deep pour comes near to.

    Args:
        heat_of_reaction_kJ_kg: heat of full cure per kg of resin, kJ/kg, 10 to 1000.
        resin_by_mass_fraction: share of the mix by mass that is reacting resin, dimensionless, 0.05 to 1.
        heat_capacity_J_kg_K: specific heat capacity of the whole mix, J/(kg K), 500 to 4000.
    Returns:
        Rise of temperature, K.
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: an upper bound for the rise above the temperature at mixing; resin that cures cold stays short of full cure.
    Formula: rise = 1000 heat of reaction x resin by mass/heat capacity
    Source: conservation of energy
    Example:
        >>> round(adiabatic_rise_K(350, 1, 1900), 1)
        184.2
    """
    require(HEAT_OF_REACTION_KJ_KG, heat_of_reaction_kJ_kg=heat_of_reaction_kJ_kg)
    require(RESIN_FRACTION, resin_by_mass_fraction=resin_by_mass_fraction)
    require(LAYER_HEAT_CAPACITY_J_KG_K, heat_capacity_J_kg_K=heat_capacity_J_kg_K)
    return 1000 * heat_of_reaction_kJ_kg * resin_by_mass_fraction / heat_capacity_J_kg_K


def cure_peak(
    layer_thickness_mm: float,
    resin_by_mass_fraction: float,
    heat_of_reaction_kJ_kg: float,
    gel_time_min: float,
    reference_temperature_C: float,
    activation_energy_kJ_mol: float,
    gel_conversion_fraction: float,
    reaction_order: float,
    acceleration_order: float,
    layer_density_kg_m3: float,
    layer_heat_capacity_J_kg_K: float,
    layer_conductivity_W_m_K: float,
    backing_thickness_mm: float,
    backing_density_kg_m3: float,
    backing_heat_capacity_J_kg_K: float,
    backing_conductivity_W_m_K: float,
    air_temperature_C: float,
    start_temperature_C: float,
    top_transfer_W_m2_K: float,
    back_transfer_W_m2_K: float,
    duration_h: float,
) -> CurePeak:
    """How hot a layer laid in one go gets while it cures on its backing, and when.

    Args:
        layer_thickness_mm: thickness laid in one go, mm, 0.2 to 200.
        resin_by_mass_fraction: share of the layer by mass that is reacting resin, dimensionless, 0.05 to 1.
        heat_of_reaction_kJ_kg: heat of full cure per kg of resin, kJ/kg, 10 to 1000.
        gel_time_min: gel or working time at the reference temperature in thin work, min, 1 to 2000.
        reference_temperature_C: temperature that time is rated at, °C, -10 to 100.
        activation_energy_kJ_mol: apparent activation energy, kJ/mol, 10 to 200.
        gel_conversion_fraction: share of the cure done when it gels, dimensionless, 0.01 to 0.9.
        reaction_order: how the cure slows to its end, exponent n, dimensionless, 0.5 to 3.
        acceleration_order: how the cure speeds itself up at first, exponent m, dimensionless, 0 to 0.9; 0 for none.
        layer_density_kg_m3: density of the layer, kg/m3, 500 to 3000.
        layer_heat_capacity_J_kg_K: specific heat capacity of the layer, J/(kg K), 500 to 4000.
        layer_conductivity_W_m_K: heat conductivity of the layer, W/(m K), 0.02 to 5.
        backing_thickness_mm: thickness of what lies behind it, mm, 0.1 to 500.
        backing_density_kg_m3: density of the backing, kg/m3, 10 to 9000.
        backing_heat_capacity_J_kg_K: specific heat capacity of the backing, J/(kg K), 100 to 4000.
        backing_conductivity_W_m_K: heat conductivity of the backing, W/(m K), 0.01 to 400.
        air_temperature_C: air on both sides and backing at the start, °C, -10 to 60.
        start_temperature_C: mixed resin as it is laid, °C, -10 to 100.
        top_transfer_W_m2_K: heat given to the air by the open face for each K, W/(m2 K), 0 to 500.
        back_transfer_W_m2_K: the same behind the backing, W/(m2 K), 0 to 500; 0 for insulated.
        duration_h: how long to follow it, h, 0.1 to 72; long enough that the peak passes.
    Returns:
        CurePeak: hottest anywhere in the layer (°C), when (min after laying) and how deep below the open face (mm);
        hottest where layer and backing touch (°C); share of full cure at the end, mean of the layer (dimensionless);
        whether the peak passed in the time; peak if all cured at once without any loss, from the warmer of resin and
        air (°C); whether it comes so near to that that the heat has no way out; error of the energy balance
        (dimensionless).
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: flat work wider than some ten times its thickness, laid at once, full dose mixed evenly. No better than the
        orders and the conversion at gel: use the hot end of their ranges. A cup or a puddle in a corner is hotter.
        Converged to 1 K (joint 4 K) unless runs_away: then a front of cure may run through and be hotter than without
        any loss, and resin near 150 °C boils, smokes and cracks, which is not computed.
    Formula: rho c dT/dt = d/dx(k dT/dx) + rho H w da/dt; da/dt = K a^m (1 - a)^n exp(E/R (1/T_ref - 1/T)), K such that
        a = conversion at gel after the gel time at T_ref; heat to the air = transfer x (T_surface - T_air).
        Finite volumes: layer 36 equal cells, backing up to 12; each time step exact for conduction, rate of cure as
        the mean of its start and its predicted end, no cell curing by more than 2 % in a step
    Source: heat conduction with a source; autocatalytic cure after Kamal and Sourour 1973 without their starting
        term (from-memory), m = 0 is plain n-th order; Arrhenius equation (from-memory)
    Example:
        >>> peak = cure_peak(layer_thickness_mm=5, resin_by_mass_fraction=0.7, heat_of_reaction_kJ_kg=350,
        ...     gel_time_min=15, reference_temperature_C=20, activation_energy_kJ_mol=51.2,
        ...     gel_conversion_fraction=0.05, reaction_order=1.5, acceleration_order=0.5, layer_density_kg_m3=1430,
        ...     layer_heat_capacity_J_kg_K=1500, layer_conductivity_W_m_K=0.2, backing_thickness_mm=3,
        ...     backing_density_kg_m3=1430, backing_heat_capacity_J_kg_K=1200, backing_conductivity_W_m_K=0.2,
        ...     air_temperature_C=20, start_temperature_C=20, top_transfer_W_m2_K=10, back_transfer_W_m2_K=5,
        ...     duration_h=6)
        >>> round(peak.peak_C), round(peak.peak_time_min), round(peak.interface_peak_C), peak.peak_passed
        (107, 29, 101, True)
    """
    require(LAYER_THICKNESS_MM, layer_thickness_mm=layer_thickness_mm)
    require(RESIN_FRACTION, resin_by_mass_fraction=resin_by_mass_fraction)
    require(HEAT_OF_REACTION_KJ_KG, heat_of_reaction_kJ_kg=heat_of_reaction_kJ_kg)
    require(GEL_TIME_MIN, gel_time_min=gel_time_min)
    require(TEMPERATURE_C, reference_temperature_C=reference_temperature_C, start_temperature_C=start_temperature_C)
    require(ACTIVATION_ENERGY_KJ_MOL, activation_energy_kJ_mol=activation_energy_kJ_mol)
    require(GEL_CONVERSION_FRACTION, gel_conversion_fraction=gel_conversion_fraction)
    require(REACTION_ORDER, reaction_order=reaction_order)
    require(ACCELERATION_ORDER, acceleration_order=acceleration_order)
    require(LAYER_DENSITY_KG_M3, layer_density_kg_m3=layer_density_kg_m3)
    require(LAYER_HEAT_CAPACITY_J_KG_K, layer_heat_capacity_J_kg_K=layer_heat_capacity_J_kg_K)
    require(LAYER_CONDUCTIVITY_W_M_K, layer_conductivity_W_m_K=layer_conductivity_W_m_K)
    require(BACKING_THICKNESS_MM, backing_thickness_mm=backing_thickness_mm)
    require(BACKING_DENSITY_KG_M3, backing_density_kg_m3=backing_density_kg_m3)
    require(BACKING_HEAT_CAPACITY_J_KG_K, backing_heat_capacity_J_kg_K=backing_heat_capacity_J_kg_K)
    require(BACKING_CONDUCTIVITY_W_M_K, backing_conductivity_W_m_K=backing_conductivity_W_m_K)
    require(AIR_TEMPERATURE_C, air_temperature_C=air_temperature_C)
    require(TRANSFER_W_M2_K, top_transfer_W_m2_K=top_transfer_W_m2_K, back_transfer_W_m2_K=back_transfer_W_m2_K)
    require(DURATION_H, duration_h=duration_h)
    full_rise_K = adiabatic_rise_K(heat_of_reaction_kJ_kg, resin_by_mass_fraction, layer_heat_capacity_J_kg_K)
    no_loss_peak_C = max(start_temperature_C, air_temperature_C) + full_rise_K
    found = march(
        Slab(layer_thickness_mm / 1000, layer_density_kg_m3, layer_heat_capacity_J_kg_K, layer_conductivity_W_m_K),
        Slab(backing_thickness_mm / 1000, backing_density_kg_m3, backing_heat_capacity_J_kg_K,
             backing_conductivity_W_m_K),
        Kinetics(gel_time_min * 60, reference_temperature_C, activation_energy_kJ_mol, gel_conversion_fraction,
                 reaction_order, acceleration_order, full_rise_K),
        Surroundings(air_temperature_C, start_temperature_C, top_transfer_W_m2_K, back_transfer_W_m2_K),
        duration_h * 3600,
    )
    return CurePeak(
        peak_C=found.peak_C,
        peak_time_min=found.peak_time_s / 60,
        peak_depth_mm=found.peak_depth_m * 1000,
        interface_peak_C=found.interface_peak_C,
        conversion_fraction=found.conversion,
        peak_passed=found.peak_passed,
        no_loss_peak_C=no_loss_peak_C,
        runs_away=found.peak_C > no_loss_peak_C - (1 - RUNAWAY_SHARE) * full_rise_K,
        energy_balance_error_fraction=found.energy_error,
    )


def layers_below_peak(
    ply_thickness_mm: float,
    peak_limit_C: float,
    resin_by_mass_fraction: float,
    heat_of_reaction_kJ_kg: float,
    gel_time_min: float,
    reference_temperature_C: float,
    activation_energy_kJ_mol: float,
    gel_conversion_fraction: float,
    reaction_order: float,
    acceleration_order: float,
    layer_density_kg_m3: float,
    layer_heat_capacity_J_kg_K: float,
    layer_conductivity_W_m_K: float,
    backing_thickness_mm: float,
    backing_density_kg_m3: float,
    backing_heat_capacity_J_kg_K: float,
    backing_conductivity_W_m_K: float,
    air_temperature_C: float,
    start_temperature_C: float,
    top_transfer_W_m2_K: float,
    back_transfer_W_m2_K: float,
    duration_h: float,
) -> LayersBelowPeak:
    """How many equal layers may be laid one upon another in one session before the cure gets too hot; at most 20.

    Args:
        ply_thickness_mm: thickness of one layer, mm, 0.1 to 9.
        peak_limit_C: hottest that is allowed anywhere in the layers, °C, 20 to 300.
        resin_by_mass_fraction: share of the layer by mass that is reacting resin, dimensionless, 0.05 to 1.
        heat_of_reaction_kJ_kg: heat of full cure per kg of resin, kJ/kg, 10 to 1000.
        gel_time_min: gel or working time at the reference temperature in thin work, min, 1 to 2000.
        reference_temperature_C: temperature that time is rated at, °C, -10 to 100.
        activation_energy_kJ_mol: apparent activation energy, kJ/mol, 10 to 200.
        gel_conversion_fraction: share of the cure done when it gels, dimensionless, 0.01 to 0.9.
        reaction_order: how the cure slows to its end, exponent n, dimensionless, 0.5 to 3.
        acceleration_order: how the cure speeds itself up at first, exponent m, dimensionless, 0 to 0.9; 0 for none.
        layer_density_kg_m3: density of the layer, kg/m3, 500 to 3000.
        layer_heat_capacity_J_kg_K: specific heat capacity of the layer, J/(kg K), 500 to 4000.
        layer_conductivity_W_m_K: heat conductivity of the layer, W/(m K), 0.02 to 5.
        backing_thickness_mm: thickness of what lies behind it, mm, 0.1 to 500.
        backing_density_kg_m3: density of the backing, kg/m3, 10 to 9000.
        backing_heat_capacity_J_kg_K: specific heat capacity of the backing, J/(kg K), 100 to 4000.
        backing_conductivity_W_m_K: heat conductivity of the backing, W/(m K), 0.01 to 400.
        air_temperature_C: air on both sides and backing at the start, °C, -10 to 60.
        start_temperature_C: mixed resin as it is laid, °C, -10 to 100.
        top_transfer_W_m2_K: heat given to the air by the open face for each K, W/(m2 K), 0 to 500.
        back_transfer_W_m2_K: the same behind the backing, W/(m2 K), 0 to 500; 0 for insulated.
        duration_h: how long to follow it, h, 0.1 to 72; long enough that the peak passes.
    Returns:
        LayersBelowPeak: layers (count) and their thickness (mm), 0 where even one gets too hot; peak with that many
        and with one more (°C).
    Raises:
        OutOfRange: an argument is outside its range.
    Valid: as cure_peak; all layers are taken as laid at once, which is hotter than laying them by and by.
    Formula: largest count whose peak by cure_peak <= limit
    Source: as cure_peak; taking a thickness in one go is common-practice
    Example:
        >>> layers = layers_below_peak(ply_thickness_mm=1, peak_limit_C=80, resin_by_mass_fraction=0.7,
        ...     heat_of_reaction_kJ_kg=350, gel_time_min=15, reference_temperature_C=20,
        ...     activation_energy_kJ_mol=51.2, gel_conversion_fraction=0.05, reaction_order=1.5,
        ...     acceleration_order=0.5, layer_density_kg_m3=1430, layer_heat_capacity_J_kg_K=1500,
        ...     layer_conductivity_W_m_K=0.2, backing_thickness_mm=3, backing_density_kg_m3=1430,
        ...     backing_heat_capacity_J_kg_K=1200, backing_conductivity_W_m_K=0.2, air_temperature_C=20,
        ...     start_temperature_C=20, top_transfer_W_m2_K=10, back_transfer_W_m2_K=5, duration_h=6)
        >>> layers.layer_count, round(layers.peak_C), round(layers.peak_with_one_more_C)
        (3, 57, 85)
    """
    require(PLY_THICKNESS_MM, ply_thickness_mm=ply_thickness_mm)
    require(PEAK_LIMIT_C, peak_limit_C=peak_limit_C)

    def peak_of_C(count: int) -> float:
        return cure_peak(
            count * ply_thickness_mm,
            resin_by_mass_fraction,
            heat_of_reaction_kJ_kg,
            gel_time_min,
            reference_temperature_C,
            activation_energy_kJ_mol,
            gel_conversion_fraction,
            reaction_order,
            acceleration_order,
            layer_density_kg_m3,
            layer_heat_capacity_J_kg_K,
            layer_conductivity_W_m_K,
            backing_thickness_mm,
            backing_density_kg_m3,
            backing_heat_capacity_J_kg_K,
            backing_conductivity_W_m_K,
            air_temperature_C,
            start_temperature_C,
            top_transfer_W_m2_K,
            back_transfer_W_m2_K,
            duration_h,
        ).peak_C

    peaks_C = {0: start_temperature_C}
    most_below, least_above = 0, MOST_LAYERS + 1
    while least_above - most_below > 1:
        count = (most_below + least_above) // 2
        peaks_C[count] = peak_of_C(count)
        if peaks_C[count] <= peak_limit_C:
            most_below = count
        else:
            least_above = count
    return LayersBelowPeak(
        layer_count=most_below,
        thickness_mm=most_below * ply_thickness_mm,
        peak_C=peaks_C[most_below],
        peak_with_one_more_C=peaks_C.get(most_below + 1) or peak_of_C(most_below + 1),
    )
