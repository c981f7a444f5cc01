"""Product cards: the maker's numbers go everywhere their family's went, and nowhere else; bad cards name the line."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest
import yaml

from advisor import answer_file, cli
from advisor.commands.schema import product_schema
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import InputError

SCENARIOS = Path(__file__).parents[1] / "scenarios"
CARDS = sorted((SCENARIOS / "cards").glob("*.yaml"))
TUBE = "advisor: 1\nproduct: Invented tube\nkind: adhesive\nfamily: methacrylate\nvalues:\n"


def advised(scenario: str, *cards: Path, **changed: str) -> Advice:
    file = answer_file.read(SCENARIOS / f"{scenario}.yaml")
    return Advisor.from_folder(None, cards).consult({**file.answers, **changed}, scenario).advice()


def card(tmp_path: Path, values: str) -> Path:
    path = tmp_path / "card.yaml"
    path.write_text(TUBE + values, encoding="utf-8")
    return path


def test_its_values_replace_the_generic_ones_and_carry_its_name(tmp_path: Path) -> None:
    path = card(tmp_path, "  bond_line: 1.7 mm\n  lowest_temperature: 17 C\n")
    advice = advised("lap-that-fits", path)
    assert advice.products[0].used
    assert any("17 °C" in line.say for line in advice.conditions)
    assert not any("lowest" in line.text.casefold() and "adhesive" in line.text.casefold() for line in advice.confirm)
    assert any("invented tube" in line.say.casefold() for line in advice.conditions)


def test_a_shorter_working_time_changes_the_class_and_nothing_about_the_faces(tmp_path: Path) -> None:
    plain, quick = advised("lap-that-fits"), advised("lap-that-fits", card(tmp_path, "  work_times: [4 min]\n"))

    def said(advice: Advice, about: str) -> list[str]:
        return [line.say for line in advice.specification if line.about.startswith(about)]

    assert said(plain, "Working time") != said(quick, "Working time")
    assert said(plain, "Abrading") == said(quick, "Abrading")


def test_a_product_that_does_not_suit_is_said_first_with_its_reason() -> None:
    advice = advised("lap-that-fits", SCENARIOS / "cards" / "tube-from-the-shelf.yaml", face_b="low_energy_plastic")
    line = advice.products[0]
    assert not line.used and ("does not suit" in line.say or "not needed" in line.say)


def test_a_value_outside_the_family_is_asked_about(tmp_path: Path) -> None:
    advice = advised("lap-that-fits", card(tmp_path, "  gap_high: 25 mm\n"))
    assert any("25 mm" in query and "Read the sheet again" in query for query in advice.products[0].queries)


@pytest.mark.parametrize("path", CARDS, ids=lambda path: path.stem)
def test_the_cards_that_ship_fit_the_schema_and_work(path: Path, advisor: Advisor) -> None:
    jsonschema.validate(yaml.safe_load(path.read_text(encoding="utf-8")), product_schema(advisor.rule_base))
    assert advised("lap-that-fits", path).status in ("advice", "close_call")


@pytest.mark.parametrize(("values", "place", "said"), [
    ("  gap_hihg: 5 mm\n", ":6", "gap_high"),
    ("  gap_high: 5 kg\n", ":6", "length"),
    ("  gap_high: 5 mm\n  density: 1 g/mL\n  gap_low: -3 mm\n", ":8", "accepted"),
    ("  character: brittle\n", ":6", "rigid"),
    ("  lowest_temperature: 12\n", ":6", "°C or °F"),
    ("", ":5", "values"),
])
def test_a_bad_card_is_refused_with_line_and_help(tmp_path: Path, values: str, place: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        advised("lap-that-fits", card(tmp_path, values))
    assert place in str(caught.value) and said in str(caught.value), str(caught.value)


def test_the_command_takes_cards(capsys: pytest.CaptureFixture[str]) -> None:
    scenario, tube = str(SCENARIOS / "lap-that-fits.yaml"), str(SCENARIOS / "cards" / "tube-from-the-shelf.yaml")
    assert cli.main(["advise", scenario, "--product", tube, "--as", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["products"][0]["product"] == "Tube from the shelf"
    assert cli.main(["advise", scenario, "--product", "no-such-card.yaml"]) == 1


def test_vary_and_compare_take_cards(capsys: pytest.CaptureFixture[str]) -> None:
    scenario, tube = str(SCENARIOS / "lap-that-fits.yaml"), str(SCENARIOS / "cards" / "tube-from-the-shelf.yaml")
    assert cli.main(["compare", scenario, scenario, "--other-product", tube, "--as", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert any("Tube from the shelf" in line["other"] for line in found) and not any(
        "Tube from the shelf" in line["one"] for line in found)
    assert {line["part"] for line in found} <= {"advice", "amounts", "time", "margins", "today", "cautions"}
    assert cli.main(["compare", scenario, scenario, "--product", tube]) == 0
    assert "Nothing differs" in capsys.readouterr().out
    assert cli.main(["vary", scenario, "--product", tube, "--question", "gap_max", "--as", "json"]) == 0
    (gap,) = json.loads(capsys.readouterr().out)
    assert gap["nearest"][0]["value"].startswith("5")  # the widest gap that the card names


@pytest.mark.parametrize(("temperature", "written"), [("18 C", "1.2 %"), ("12 C", "1.2 %"), ("30 C", "1.2 %")])
def test_the_dose_on_a_card_is_the_dose_of_the_advice(tmp_path: Path, temperature: str, written: str) -> None:
    path = tmp_path / "resin.yaml"
    path.write_text("advisor: 1\nproduct: Invented tin\nkind: resin\nfamily: polyester_laminating\nvalues:\n"
                    "  dose: 1.2 percent\n  lowest_temperature: 10 C\n", encoding="utf-8")
    advice = advised("first-timer-glue-or-laminate", path, air_temperature=temperature, surface_temperature=temperature)
    assert advice.products[0].used
    (line,) = [line for line in advice.specification if line.about == "Catalyst"]
    assert line.say.startswith(written)
    total = next(line for line in advice.quantities if line.item.startswith("Peroxide"))
    bought = next(line for line in advice.quantities if line.item.startswith("Resin to buy"))
    assert total.high and bought.high and total.high == pytest.approx(12 * bought.high, rel=0.01)  # g for kg
