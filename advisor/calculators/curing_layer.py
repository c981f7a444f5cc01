"""The heat of a curing layer marched through time: finite volumes across layer and backing."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from advisor.calculators.cure import GAS_CONSTANT_KJ_MOL_K, ZERO_CELSIUS_K

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

__all__: list[str] = []

LAYER_CELLS = 36
BACKING_CELLS = 12
MOST_CONVERSION_STEP = 0.01
LEAST_STEPS = 100
SHORTEST_STEP_S = 1e-3
CURVE_POINTS = 1500
NO_HEAT_J_M2 = 1.0  # keeps the balance of a layer that has not begun to cure from being divided by nothing
END_OF_CURVE = 10.0  # the curve of conversion ends at 1 - exp(-10)


class Slab(NamedTuple):
    """A slab of one material, SI units."""

    thickness_m: float
    density_kg_m3: float
    heat_capacity_J_kg_K: float
    conductivity_W_m_K: float


class Kinetics(NamedTuple):
    """How a resin cures at its reference temperature, and what heating that does to the mix."""

    gel_time_s: float
    reference_temperature_C: float
    activation_energy_kJ_mol: float
    gel_conversion: float
    order: float
    acceleration_order: float
    full_rise_K: float


class Surroundings(NamedTuple):
    """Air on both sides, what it takes up, and how warm the layer is laid; the backing begins as warm as the air."""

    air_C: float
    start_C: float
    top_W_m2_K: float
    back_W_m2_K: float


class March(NamedTuple):
    """What a march through time found."""

    peak_C: float
    peak_time_s: float
    peak_depth_m: float
    interface_peak_C: float
    conversion: float
    peak_passed: bool
    energy_error: float


class _Modes(NamedTuple):
    """The conduction of all cells as modes that decay each on its own."""

    decay_per_s: Array
    to_modes: Array
    from_modes: Array
    capacity_J_m2_K: Array
    lost_W_m2_K: Array
    layer_weight: float


class _State(NamedTuple):
    ages_s: Array
    conversion: Array
    modes: Array


def march(layer: Slab, backing: Slab, kinetics: Kinetics, around: Surroundings, duration_s: float,
          fineness: int = 1) -> March:
    """Heat and cure a layer on its backing; a finer grid and finer steps only to show that they change nothing.

    Each step is exact for conduction, with the heat of the step spread evenly over it; the rate of cure is the mean
    of the rates at its start and at its predicted end. Steps are cut so that no cell cures by more than about 1 %.
    """
    import numpy as np

    cells = LAYER_CELLS * fineness
    modes = _modes(layer, backing, around, cells, _backing_cells(layer, backing, fineness))
    curve = _curve_of_cure(kinetics)
    temperatures = np.zeros(len(modes.capacity_J_m2_K))
    temperatures[:cells] = around.start_C - around.air_C
    state = _State(np.zeros(cells), np.zeros(cells), modes.to_modes @ temperatures)
    stored_J_m2 = float(modes.capacity_J_m2_K @ temperatures)
    most = MOST_CONVERSION_STEP / fineness
    time_s, step_s, lost_J_m2 = 0.0, kinetics.gel_time_s / 1000, 0.0
    peak_K, peak_time_s, peak_cell = float(temperatures[:cells].max()), 0.0, 0
    interface_K = float("-inf")
    while time_s < duration_s * (1 - 1e-12):
        step_s = min(step_s, duration_s - time_s)
        after = _step(state, temperatures[:cells], step_s, modes, kinetics, around, curve)
        cured = float((after.conversion - state.conversion).max())
        if cured > 2 * most and step_s > SHORTEST_STEP_S:
            step_s /= 2
            continue
        lost_J_m2 += _lost_J_m2(state, after, step_s, modes, kinetics.full_rise_K)
        time_s, state, temperatures = time_s + step_s, after, modes.from_modes @ after.modes
        hottest = int(temperatures[:cells].argmax())
        if temperatures[hottest] > peak_K:
            peak_K, peak_time_s, peak_cell = float(temperatures[hottest]), time_s, hottest
        interface_K = max(interface_K, _interface_K(modes, temperatures, cells))
        step_s = min(step_s * min(max(most / max(cured, 1e-9), 0.5), 1.5), duration_s / LEAST_STEPS / fineness)
    made_J_m2 = kinetics.full_rise_K * float(modes.capacity_J_m2_K[:cells] @ state.conversion)
    left_J_m2 = stored_J_m2 + made_J_m2 - lost_J_m2 - float(modes.capacity_J_m2_K @ temperatures)
    return March(
        peak_C=around.air_C + peak_K,
        peak_time_s=peak_time_s,
        peak_depth_m=layer.thickness_m * (peak_cell + 0.5) / cells,
        interface_peak_C=around.air_C + interface_K,
        conversion=float(state.conversion.mean()),
        peak_passed=time_s > peak_time_s,
        energy_error=abs(left_J_m2) / (made_J_m2 + abs(stored_J_m2) + abs(lost_J_m2) + NO_HEAT_J_M2),
    )


def _curve_of_cure(kinetics: Kinetics) -> tuple[Array, Array]:
    """Age at the reference temperature against conversion, scaled so that gel comes at the gel time.

    d(conversion)/d(age) = k c^m (1 - c)^n, summed over c^(1-m) because c^m alone has no finite slope at c = 0.
    """
    import numpy as np

    conversion = -np.expm1(-np.linspace(0, END_OF_CURVE, CURVE_POINTS))
    stretched = conversion ** (1 - kinetics.acceleration_order)
    slope = (1 - conversion) ** -kinetics.order
    age = np.concatenate(([0.0], np.cumsum(np.diff(stretched) * (slope[1:] + slope[:-1]) / 2)))
    return age * kinetics.gel_time_s / np.interp(kinetics.gel_conversion, conversion, age), conversion


def _step(state: _State, temperatures_K: Array, step_s: float, modes: _Modes, kinetics: Kinetics,
          around: Surroundings, curve: tuple[Array, Array]) -> _State:
    """Predict the end of the step from the rate at its start, then do it with the mean rate."""
    rate = _rate(temperatures_K + around.air_C, kinetics)
    predicted = _advance(state, state.ages_s + step_s * rate, step_s, modes, kinetics.full_rise_K, curve)
    cells = len(state.ages_s)
    end_rate = _rate((modes.from_modes @ predicted.modes)[:cells] + around.air_C, kinetics)
    return _advance(state, state.ages_s + step_s * (rate + end_rate) / 2, step_s, modes, kinetics.full_rise_K, curve)


def _rate(temperatures_C: Array, kinetics: Kinetics) -> Array:
    """Seconds of age at the reference temperature gained in one second."""
    import numpy as np

    reference_per_K = 1 / (kinetics.reference_temperature_C + ZERO_CELSIUS_K)
    energy_K = kinetics.activation_energy_kJ_mol / GAS_CONSTANT_KJ_MOL_K
    rate: Array = np.exp(energy_K * (reference_per_K - 1 / (temperatures_C + ZERO_CELSIUS_K)))
    return rate


def _advance(state: _State, ages_s: Array, step_s: float, modes: _Modes, full_rise_K: float,
             curve: tuple[Array, Array]) -> _State:
    import numpy as np

    conversion = np.interp(ages_s, *curve)
    heating = _heating(state.conversion, conversion, step_s, modes, full_rise_K)
    decay = modes.decay_per_s * step_s
    after = np.exp(-decay) * state.modes - np.expm1(-decay) / modes.decay_per_s * heating
    return _State(ages_s, conversion, after)


def _heating(before: Array, after: Array, step_s: float, modes: _Modes, full_rise_K: float) -> Array:
    """What the heat of cure adds to each mode in a second."""
    heating: Array = modes.to_modes[:, : len(before)] @ (full_rise_K / step_s * (after - before))
    return heating


def _lost_J_m2(before: _State, after: _State, step_s: float, modes: _Modes, full_rise_K: float) -> float:
    """Heat given to the air in one step, both sides."""
    heating = _heating(before.conversion, after.conversion, step_s, modes, full_rise_K)
    sum_K_s = (before.modes - after.modes + heating * step_s) / modes.decay_per_s
    return float(modes.lost_W_m2_K @ (modes.from_modes @ sum_K_s))


def _backing_cells(layer: Slab, backing: Slab, fineness: int) -> int:
    """Fewer cells where the backing conducts so well that it warms evenly: metal sheet gets a single one."""
    layer_cell_m2_K_W = layer.thickness_m / layer.conductivity_W_m_K / LAYER_CELLS
    across = 7 * (backing.thickness_m / backing.conductivity_W_m_K / layer_cell_m2_K_W) ** 0.5
    return fineness * min(max(int(across), 1), BACKING_CELLS)


def _modes(layer: Slab, backing: Slab, around: Surroundings, layer_cells: int, backing_cells: int) -> _Modes:
    """Cut both slabs into cells, the backing finest at the joint, and find the modes of their conduction."""
    import numpy as np

    edges = backing.thickness_m * np.linspace(0, 1, backing_cells + 1) ** 2
    widths = np.concatenate((np.full(layer_cells, layer.thickness_m / layer_cells), np.diff(edges)))
    slabs = [layer] * layer_cells + [backing] * backing_cells
    heat_J_m3_K = np.array([slab.density_kg_m3 * slab.heat_capacity_J_kg_K for slab in slabs])
    half_m2_K_W = widths / 2 / np.array([slab.conductivity_W_m_K for slab in slabs])
    lost = np.zeros(len(widths))
    lost[0] = _through_face(around.top_W_m2_K, half_m2_K_W[0])
    lost[-1] = _through_face(around.back_W_m2_K, half_m2_K_W[-1])
    between = 1 / (half_m2_K_W[:-1] + half_m2_K_W[1:])
    conduction = np.diag(lost) - np.diag(between, 1) - np.diag(between, -1)
    conduction += np.diag(np.append(between, 0) + np.insert(between, 0, 0))
    capacity = heat_J_m3_K * widths
    root = np.sqrt(capacity)
    decay, shapes = np.linalg.eigh(conduction / np.outer(root, root))
    weight = float(half_m2_K_W[layer_cells] / (half_m2_K_W[layer_cells - 1] + half_m2_K_W[layer_cells]))
    return _Modes(np.maximum(decay, 1e-12), shapes.T * root, shapes / root[:, None], capacity, lost, weight)


def _through_face(transfer_W_m2_K: float, half_cell_m2_K_W: float) -> float:
    return 1 / (1 / transfer_W_m2_K + half_cell_m2_K_W) if transfer_W_m2_K > 0 else 0.0


def _interface_K(modes: _Modes, temperatures: Array, layer_cells: int) -> float:
    """Where layer and backing touch: the temperature at which both halves conduct the same heat."""
    weight = modes.layer_weight
    return float(weight * temperatures[layer_cells - 1] + (1 - weight) * temperatures[layer_cells])
