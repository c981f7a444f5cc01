"""`advisor compute`: every computation is listed and answers typed input; refusals name the input and what is right."""

from __future__ import annotations

import json

import pytest

from advisor import cli
from advisor.calculators import CALCULATORS
from advisor.computing.describe import computations, key_of


def answered(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert cli.main(["compute", *words]) == 0
    return capsys.readouterr().out


def refused(capsys: pytest.CaptureFixture[str], *words: str, status: int = 1) -> str:
    assert cli.main(["compute", *words]) == status
    return capsys.readouterr().err


def test_the_list_names_every_computation_that_can_be_typed(capsys: pytest.CaptureFixture[str]) -> None:
    out = answered(capsys)
    assert len(computations()) == len({key_of(name) for name in computations()}) > 30
    assert all(f"  {name}\n" in out for name in computations())
    assert all("Mapping" not in out for _ in CALCULATORS)


@pytest.mark.parametrize("name", sorted(computations()))
def test_each_is_described_with_inputs_formula_and_source(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    out = answered(capsys, name)
    one = computations()[name]
    assert one.formula in out and one.source in out
    for wanted in one.inputs:
        assert wanted.key in out and wanted.meaning.split(",")[0] in out


def test_any_unit_goes_in_and_both_systems_come_out(capsys: pytest.CaptureFixture[str]) -> None:
    # 3 mm laminate, 12 : 1: 36 mm (exact); 1/8 in is 3.175 mm, 38.1 mm.
    assert "36 mm" in answered(capsys, "taper_length", "thickness=3mm", "taper_ratio=12")
    out = answered(capsys, "taper_length", "thickness=1/8 in", "taper_ratio=12")
    assert "38.1 mm" in out and "1 1/2 in" in out


def test_a_range_in_gives_a_range_out(capsys: pytest.CaptureFixture[str]) -> None:
    out = answered(capsys, "bead_volume", "length=1m", "width=25mm", "thickness=2..4mm", "--as", "json")
    result = json.loads(out)["results"]["bead_volume_mL"]
    assert (result["low"], result["value"], result["high"]) == (50.0, 75.0, 100.0)


def test_the_formula_is_shown_with_the_numbers_put_in(capsys: pytest.CaptureFixture[str]) -> None:
    assert "1000 mm x 25 mm x 2 mm" in answered(capsys, "bead_volume", "length=1m", "width=25mm", "thickness=2mm")


def test_things_of_the_rules_can_be_named(capsys: pytest.CaptureFixture[str]) -> None:
    out = answered(capsys, "build_schedule", "target_thickness=3mm", "first=mat_300_powder", "repeat=mat_450_powder",
                   "last=cloth_200", "resin_density=1.2g/cm3", "enough_fraction=1")
    assert "mat_450_powder" in out and "thickness = 3" in out


@pytest.mark.parametrize(("words", "status", "parts"), [
    (["taper_lenght", "thickness=3mm"], 1, ["taper_lenght", "taper_length"]),
    (["taper_length", "thickness=3mm"], 1, ["taper_ratio", "still needs"]),
    (["taper_length", "thicknes=3mm", "taper_ratio=12"], 1, ["thicknes", "thickness"]),
    (["taper_length", "thickness=3", "taper_ratio=12"], 1, ["thickness", "no unit"]),
    (["taper_length", "thickness=3kg", "taper_ratio=12"], 1, ["thickness", "length"]),
    (["taper_length", "thickness=3km", "taper_ratio=12"], 1, ["thickness", "accepted"]),
    (["taper_length", "thickness=nan mm", "taper_ratio=12"], 1, ["thickness"]),
    (["taper_length", "thickness", "taper_ratio=12"], 2, ["name=value"]),
    (["taper_length", "thickness=3mm", "thickness=4mm", "taper_ratio=12"], 2, ["twice"]),
    (["glass_needed", "waste_fraction=0.1"], 1, ["answer file"]),
    (["taper_length", "thickness=", "taper_ratio=12"], 1, ["nothing was given"]),
    (["build_schedule", "target_thickness=3mm", "first=no_such", "repeat=mat_450_powder", "last=cloth_200",
      "resin_density=1.2g/cm3", "enough_fraction=1"], 1, ["no_such"]),
])
def test_bad_input_is_refused_with_what_would_be_right(
        words: list[str], status: int, parts: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    message = refused(capsys, *words, status=status)
    assert all(part in message for part in parts), message


def test_the_unit_in_the_name_stands_for_a_bare_number(capsys: pytest.CaptureFixture[str]) -> None:
    assert "36 mm" in answered(capsys, "taper_length_mm", "thickness_mm=3", "taper_ratio=12")
