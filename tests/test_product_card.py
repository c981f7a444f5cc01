"""Product cards: the maker's numbers go everywhere their family's went, and nowhere else; bad cards name the line."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import jsonschema
import pytest
import yaml

from advisor import answer_file, cli
from advisor.commands.schema import product_schema
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import InputError
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.product_card import card_kinds, read_card
from advisor.knowledge.rulebase import RuleBase
from advisor.report import terminal

SCENARIOS = Path(__file__).parents[1] / "scenarios"
CARDS = sorted((SCENARIOS / "cards").glob("*.yaml"))
TUBE = "advisor: 1\nproduct: Invented tube\nkind: adhesive\nfamily: methacrylate\nvalues:\n"


@cache
def rules() -> RuleBase:
    return load_rule_base(None, examples=False)


def advised(scenario: str, *cards: Path, **changed: str) -> Advice:
    file = answer_file.read(SCENARIOS / f"{scenario}.yaml")
    advisor = Advisor(rules(), cards=[read_card(path, rules()) for path in cards])
    return advisor.consult({**file.answers, **changed}, scenario).advice()


def card(tmp_path: Path, values: str, head: str = TUBE) -> Path:
    path = tmp_path / f"card-{len(list(tmp_path.iterdir()))}.yaml"
    path.write_text(head + values, encoding="utf-8")
    return path


def head(kind: str, family: str) -> str:
    return f"advisor: 1\nproduct: Invented {kind}\nkind: {kind}\nfamily: {family}\nvalues:\n"


def said(advice: Advice, about: str) -> list[str]:
    return [line.say for line in advice.specification if line.about.startswith(about)]


def test_its_values_replace_the_generic_ones_and_carry_its_name(tmp_path: Path) -> None:
    path = card(tmp_path, "  bond_line: 1.7 mm\n  lowest_temperature: 17 C\n")
    advice = advised("lap-that-fits", path)
    assert advice.products[0].used
    assert any("17 °C" in line.say for line in advice.conditions)
    assert not any("lowest" in line.text.casefold() and "adhesive" in line.text.casefold() for line in advice.confirm)
    assert any("invented tube" in line.say.casefold() for line in advice.conditions)


def test_a_shorter_working_time_changes_the_class_and_nothing_about_the_faces(tmp_path: Path) -> None:
    plain, quick = advised("lap-that-fits"), advised("lap-that-fits", card(tmp_path, "  work_times: [4 min]\n"))

    assert said(plain, "Working time") != said(quick, "Working time")
    assert said(plain, "Abrading") == said(quick, "Abrading")


def test_a_product_that_does_not_suit_is_said_first_with_its_reason() -> None:
    advice = advised("lap-that-fits", SCENARIOS / "cards" / "tube-from-the-shelf.yaml", face_b="low_energy_plastic")
    line = advice.products[0]
    assert not line.used and ("does not suit" in line.say or "not needed" in line.say)


def test_a_wipe_of_the_wrong_strength_leaves_a_job_with_advice_and_the_plastic_unharmed(tmp_path: Path) -> None:
    strong = advised("abs-trim", card(tmp_path, "  strong: yes\n", head("cleaner", "isopropyl_alcohol")))
    mild = advised("abs-trim", card(tmp_path, "  strong: no\n", head("cleaner", "acetone")))
    for advice in (strong, mild):
        assert advice.status == "advice" and not advice.products[0].used
    assert any(line.startswith("No acetone and no thinner. Wipe with soap") for line in said(strong, "Solvent wipe"))


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
    ("  gap_low: 9 mm\n  gap_high: 2 mm\n", ":7", "exchanged"),
    ("  lowest_temperature: 30 C\n  highest_temperature: 20 C\n", ":7", "is below lowest working temperature"),
    ("  work_times: []\n", ":6", "no number"),
    ("  work_times: [0 min]\n", ":6", "accepted"),
    ("\tgap_high: 5 mm\n", ":6", "spaces"),
    ("  gap_high: {low: 2, high: 5}\n", ":6", "`5 mm`"),
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


def test_a_glass_that_epoxy_does_not_wet_is_kept_out_of_it_and_that_is_said_first(tmp_path: Path) -> None:
    roll = card(tmp_path, "  binder: emulsion\n", head("reinforcement", "biaxial_400"))
    advice = advised("plan-bulkhead-mat-in-epoxy", roll)
    (line,) = advice.products
    assert not line.used and "only styrene dissolves" in line.say and line.queries
    build_up = next(choice for choice in advice.choices if choice.decision == "build_up")
    assert build_up.chosen != "epoxy_biaxial"
    assert next(one for one in build_up.candidates if one.id == "epoxy_biaxial").standing == "ruled_out"
    outweighed = advised("hole-from-both-sides", roll).products[0]
    assert not outweighed.used and "more speaks for" in outweighed.say and "does not suit" not in outweighed.say


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


def test_every_kind_of_product_has_a_card_that_ships_and_is_used() -> None:
    jobs = {"adhesive": ("tube-from-the-shelf", "lap-that-fits"),
            "resin": ("tin-of-slow-epoxy", "hole-from-both-sides"),
            "catalyst": ("bottle-of-catalyst", "first-timer-glue-or-laminate"),
            "filler": ("tin-of-grey-filler", "gel-coat-scratch"), "cleaner": ("can-of-wipe", "abs-trim"),
            "reinforcement": ("roll-of-stitched-glass", "plan-bulkhead-mat-in-epoxy")}
    assert set(jobs) == set(card_kinds(rules()))
    for kind, (name, job) in jobs.items():
        changed = {"finish": "paint"} if kind == "filler" else {}
        (line,) = advised(job, SCENARIOS / "cards" / f"{name}.yaml", **changed).products
        assert line.kind == kind and line.used, line.say


def test_hazards_stand_among_the_cautions_as_the_makers_words(advisor: Advisor) -> None:
    advice = advised("lap-that-fits", SCENARIOS / "cards" / "tube-from-the-shelf.yaml")
    assert advice.products[0].hazards == ("Highly flammable liquid and vapour.", "May cause an allergic skin reaction.")
    shown = " ".join(terminal.plain_text(advice, rules()).split())
    assert "The maker of Tube from the shelf says: Highly flammable liquid and vapour." in shown
    unused = terminal.plain_text(advised("lap-that-fits", SCENARIOS / "cards" / "tube-from-the-shelf.yaml",
                                         gap_max="9 mm", gap_usual="8 mm"), rules())
    assert "The maker of" not in unused


@pytest.mark.parametrize(("changed", "used", "said_first"), [
    ({"air_temperature": "8 C", "surface_temperature": "8 C", "can_warm": "no"}, True, "Too cold for tube"),
    ({"gap_max": "9 mm", "gap_usual": "8 mm"}, False, "fills (5 mm)"),
    ({"face_b": "low_energy_plastic"}, False, "does not wet it at all"),
    ({"air_temperature": "40 C", "surface_temperature": "40 C"}, True, "sheet ends at 35"),
])
def test_a_card_that_contradicts_the_job_is_said_first(changed: dict[str, str], used: bool, said_first: str) -> None:
    advice = advised("lap-that-fits", SCENARIOS / "cards" / "tube-from-the-shelf.yaml", **changed)
    (line,) = advice.products
    assert line.used is used and said_first in line.say, line.say
    assert line.against
    text = " ".join(terminal.plain_text(advice, rules()).split())
    place = text.index(line.say[:60])
    assert place < text.index("Today ---") and place < text.index("Why this way, ")


def test_catalyst_filler_and_cleaner_bring_their_own_numbers(tmp_path: Path) -> None:
    bottle = card(tmp_path, "  dose_most: 1.2 percent\n  density: 1.3 g/mL\n", head("catalyst", "peroxide_liquid"))
    plain, own = (advised("first-timer-glue-or-laminate", *cards) for cards in ((), (bottle,)))
    (dose,) = [line for line in own.checks if "most that is safe" in line.name]
    assert dose.limit == dose.value == pytest.approx(1.2) and dose.verdict == "thin"
    assert "the sheet of the catalyst allows 1.2 %" in said(own, "Dose of the sheet")[0]
    assert said(plain, "Catalyst") != said(own, "Catalyst")
    notes = {next(line.note for line in advice.quantities if line.item.startswith("Peroxide"))
             for advice in (plain, own)}
    assert len(notes) == 2  # fewer grams by the dose, millilitres by the density of the bottle

    tin = card(tmp_path, "  layer_limit: 7 mm\n  work_time: 9 min\n  density: 1 g/mL\n  pack_sizes: [0.1 kg]\n",
               head("filler", "polyester_filler"))
    filled = advised("gel-coat-scratch", tin, finish="paint")
    steps = " ".join(f"{step.text} {step.duration}" for step in filled.steps)
    assert "layers of 7 mm" in steps and "spread in 9 min" in steps
    (bought,) = [line for line in filled.quantities if "Invented filler" in line.item]
    assert bought.packs and "100 g" in bought.packs

    can = card(tmp_path, "  flash_off_time: 21 min\n  coverage: 1 m2/L\n", head("cleaner", "acetone"))
    wiped = advised("lap-that-fits", can)
    assert any("wait 21 min" in (step.duration or "") for step in wiped.steps)
    (solvent,) = [line for line in wiped.quantities if "Invented cleaner" in line.item]
    (area,) = [line.value for line in wiped.trace if line.fact == "wiped_area"]
    litres = float(area.split()[0])  # one for each square metre
    assert solvent.amount == pytest.approx(litres, rel=0.05)


def test_tests_and_ratios_of_a_sheet_are_told(tmp_path: Path) -> None:
    path = card(tmp_path, "  shear_strength: 19 MPa\n  shear_tested_on: metal\n  peel_strength: 8 N/mm\n"
                "  peel_tested_by: roller\n  base_parts: 100\n  hardener_parts: 12\n  base_parts_volume: 10\n"
                "  hardener_parts_volume: 1\n  sustained_left: 30 percent\n  service_temperature_high: 35 C\n")
    plain, own = (advised("bracket-long-enough", *cards) for cards in ((), (path,)))
    assert own.products[0].used
    assert "19 MPa was measured on metal" in said(own, "Strength on the sheet")[0]
    assert "8 N/mm was measured over a roller" in said(own, "Peel on the sheet")[0]
    assert [line.split(",")[0] for line in said(own, "Mixing ratio of the adhesive")] == [
        "100 parts of base to 12 parts of hardener", "10 parts of base to 1 parts of hardener"]
    assert any(line.name == "Hottest in service on the sheet of the adhesive" for line in own.checks)
    before, after = (float(next(line.value for line in advice.trace if line.fact == "strength_left").split()[0])
                     for advice in (plain, own))
    assert after == pytest.approx(2 * before, rel=0.02)  # 30 in place of 15 percent under the lasting load


@pytest.mark.parametrize(("text", "place", "words"), [
    ("advisor: 1\nproduct: A\nkind: resin\nfamily: methacrylate\nvalues:\n  dose: 1 percent\n", ":4", "kind: adhesive"),
    ("advisor: 2\nproduct: A\nkind: resin\nfamily: epoxy_slow\nvalues:\n  dose: 1 percent\n", ":1", "version 1"),
    ("advisor: 1\nproduct: A\nkind: face\nfamily: abs\nvalues:\n  expansion: 5 um/m/K\n", ":3", "adhesive"),
    (TUBE + "  gap_high: 5 mm\nhazards:\n  - ''\n", ":7", "hazards"),
    (TUBE + "  gap_high: 5 mm\nhazards: " + "x" * 301 + "\n", ":7", "hazards"),
    ("advisor: 1\nproduct: A\nkind: cleaner\nfamily: acetone\nvalues:\n  coverage: 5 m2\n", ":6", "m2/L"),
])
def test_cards_of_no_kind_and_bad_warnings_are_refused(tmp_path: Path, text: str, place: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        read_card(card(tmp_path, text, ""), rules())
    assert place in str(caught.value) and words in str(caught.value), str(caught.value)


def test_two_cards_of_one_family_are_refused(tmp_path: Path) -> None:
    cards = [card(tmp_path, "  gap_high: 5 mm\n"), card(tmp_path, "  gap_high: 6 mm\n")]
    with pytest.raises(InputError, match="both `methacrylate`"):
        advised("lap-that-fits", *cards)
