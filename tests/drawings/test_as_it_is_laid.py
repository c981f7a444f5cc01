"""Beads and strips as the words beside them say they are laid, and drawings of very much."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.drawings import drawings_of, layers
from advisor.units.present import format_quantity
from tests.drawings.test_drawings import SCENARIOS, SVG, advice_of, drawn, each, marked, numbers, readable


@each
def test_the_bead_is_laid_as_the_specification_says(path: Path) -> None:
    """A zigzag only where the words beside the drawing say so; else a line, or rows."""
    for one in drawn(path, "bead"):
        lines = [numbers(line) for line in ET.fromstring(one.svg).iter(f"{SVG}polyline")]
        said = " ".join(line.say for line in advice_of(path).specification if line.about == "Bead")
        crooked = [line for line in lines if len({y for _, y in line}) > 1]
        assert len(crooked) == ("Zigzag" in said)
        assert len(lines) == (2 if "rows side by side" in said and not crooked else 1)


@pytest.mark.parametrize(("name", "sides"), [("bulkhead-in-a-cabin", 2), ("wide-gap-pulls-back", 1)])
def test_strips_are_drawn_as_long_as_they_lie(name: str, sides: int) -> None:
    """Their length on the roll counts both sides; each side gets a strip as long as the joint."""
    path = SCENARIOS[0].parent / f"{name}.yaml"
    one, = drawn(path, "plan")
    joint = advice_of(path).drawn.numbers["joint_length"].likely
    assert one.parts["sides"] == sides
    assert all(length == pytest.approx(joint) for length, _ in one.parts["patches_mm"].values())


@each
def test_only_packs_that_are_bought_are_drawn(path: Path) -> None:
    for one in drawn(path, "bead"):
        advice = advice_of(path)
        bought = " ".join(line.packs or "" for line in advice.quantities if line.buy)
        sizes = [format_quantity(pack, "mL", advice.units) for pack in advice.drawn.packs_mL]
        assert all(f"x {size}" in bought and f"Pack of {size}" in one.description for size in sizes[:1])


@given(st.integers(1, 400))
def test_of_very_many_plies_the_first_the_last_and_some_between_get_a_sign(count: int) -> None:
    signs = layers.signs_of(count)
    assert signs[0] == 0 and signs[-1] == count - 1 and len(signs) <= 21
    assert signs == sorted(set(signs)) and (count > 20 or len(signs) == count)


def test_very_many_batches_stay_readable() -> None:
    advice = advice_of(SCENARIOS[0].parent / "hole-from-both-sides.yaml")
    first = advice.batches[0]
    many = tuple(first.model_copy(update={"number": number, "start_min": 7.0 * number}) for number in range(1, 61))
    one = next(drawing for drawing in drawings_of(advice.model_copy(update={"batches": many}))
               if drawing.id == "time-line")
    readable(one)
    assert len(marked(one, "batch")) == 60 and one.height < 600
