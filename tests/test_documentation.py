"""The pages of docs/computations: every number in a worked example is the one that the computation gives."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from advisor.computing.describe import computations, key_of
from advisor.computing.run import run_computation
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.numbers import NO_UNIT, Number
from advisor.units import unit_of_name

PAGES = sorted((Path(__file__).parents[1] / "docs" / "computations").glob("*.md"))
BLOCK = re.compile(r"^```compute\n(.*?)^```$", re.MULTILINE | re.DOTALL)
RESULT = re.compile(r"^-> (\w+) = (.+?)$")
SECTIONS = ("What it computes", "When not to trust it", "Formula", "Symbols", "Source", "Worked example")
FOUR_FIGURES = 6e-4


@dataclass(frozen=True)
class Example:
    """One worked example: the command as typed and the result lines under it."""

    page: str
    command: str
    results: tuple[tuple[str, str], ...]


def examples() -> Iterator[Example]:
    for page in PAGES:
        for block in BLOCK.findall(page.read_text(encoding="utf-8")):
            command, *lines = block.strip().splitlines()
            matches = [RESULT.match(line) for line in lines]
            assert all(matches), f"{page.name}: {block}"
            yield Example(page.name, command, tuple((found[1], found[2]) for found in matches if found))


EXAMPLES = list(examples())


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_page_has_its_sections_and_an_example(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert [title for title in SECTIONS if f"\n## {title}" not in text] == []
    assert any(example.page == page.name and example.results for example in EXAMPLES)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda one: f"{one.page}: {one.command[:60]}")
def test_the_number_in_the_page_is_the_number_computed(example: Example) -> None:
    name, *words = example.command.split()
    pairs = dict(word.split("=", 1) for word in words)
    catalogues = load_rule_base(examples=False).catalogues if any("_450" in word for word in words) else {}
    outcome = run_computation(computations()[key_of(name)], pairs, catalogues)
    assert example.results
    for field, shown in example.results:
        check(field, shown, outcome.results[field])


def check(field: str, shown: str, computed: object) -> None:
    text, _, unit = shown.partition(" ")
    if not isinstance(computed, Number):
        assert text == spoken_value(computed).split()[0], field
        return
    assert float(text) == pytest.approx(computed.value, rel=FOUR_FIGURES), field
    wanted = unit_of_name(field)
    if wanted and computed.unit != NO_UNIT and unit:
        assert unit.replace("%", "percent").removeprefix("°") in (wanted, wanted.replace("1/", "per ")), field
    assert unit or wanted in (None, "count", NO_UNIT), field


def spoken_value(value: object) -> str:
    if value is None:
        return "never"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(f"{item:.4g}" if isinstance(item, float) else str(item) for item in value)
    return str(value)


def test_the_pages_cover_the_judging_computations() -> None:
    text = " ".join(page.read_text(encoding="utf-8") for page in PAGES)
    subjects = {"closing_force", "lap_shear", "lap_edges", "thermal_shear", "scarf_efficiency", "laminate_stiffness",
                "cure_through_day", "room_air"}
    assert {name for name in subjects if f"`{name}`" not in text} == set()
    assert {name for name in subjects if name not in computations()} == set()
