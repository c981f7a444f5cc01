"""The interview for a product card: everything asked, back, unknown, bad input, and a card that the advice takes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from advisor import cli
from advisor.answer_file import dumped
from advisor.commands import card as command
from advisor.consultation.consult import Advisor
from advisor.interview.asker import Line
from advisor.interview.card import CardInterview
from advisor.interview.card_draft import CardDraft
from advisor.interview.card_words import saved
from advisor.interview.scripted import ScriptedAsker
from advisor.knowledge.product_card import card_kinds, fields_of, read_card
from advisor.knowledge.rulebase import RuleBase
from advisor.units.spelling import find_unit


@pytest.fixture(scope="module")
def rule_base(advisor: Advisor) -> RuleBase:
    return advisor.rule_base


class Sheet:
    """A person with a sheet: types what stands there under the label of each question, Enter where it has nothing."""

    def __init__(self, sheet: dict[str, list[str]]) -> None:
        self.asker = ScriptedAsker(self)
        self.left = {label: list(lines) for label, lines in sheet.items()}

    def __call__(self, line: Line) -> str:
        if line.prompt.startswith("Save"):
            lines = self.left.get("Save", [])
            return lines.pop(0) if lines else ""
        heads = [place for place, text in enumerate(self.asker.lines) if text.startswith("Question ")]
        lines = self.left.get(self.asker.lines[heads[-1] + 1], [])
        return lines.pop(0) if lines else ""


def held(rule_base: RuleBase, sheet: dict[str, list[str]]) -> tuple[CardDraft | None, str]:
    person = Sheet(sheet)
    draft = CardInterview(rule_base, person.asker).hold()
    return draft, person.asker.text


TUBE = {
    "What do you call the product?": ["Invented tube"], "What is it?": ["adhesive"],
    "Which family does it belong to?": ["methacrylate"],
    "Thickest bond line": ["wide", "5 kg", "3/16 in"], "Lowest working temperature": ["12", "12 C"],
    "Working times sold": ["5 min, 18 min"], "What the shear test was made on": ["metal"],
    "Shear strength in a short test": ["40 MPa"], "Peel strength in a short test": ["unknown"],
    "What does the maker warn of?": ["Highly flammable.", "Irritates the skin.", ""],
}


def test_a_tube_is_asked_for_and_its_card_is_taken(rule_base: RuleBase, tmp_path: Path) -> None:
    draft, text = held(rule_base, TUBE)
    assert draft is not None
    path = tmp_path / "tube.yaml"
    path.write_text(dumped(draft.content()), encoding="utf-8")
    card = read_card(path, rule_base)
    assert (card.product, card.kind, card.family) == ("Invented tube", "adhesive", "methacrylate")
    assert set(card.values) == {"gap_high", "lowest_temperature", "work_times", "shear_tested_on", "shear_strength"}
    assert card.values["work_times"] == (5.0, 18.0) and card.values["shear_tested_on"] == "metal"
    assert card.values["gap_high"].value == pytest.approx(4.7625)  # type: ignore[union-attr]
    assert draft.values["gap_high"] == "3/16 in"  # kept as it stands on the sheet
    assert card.hazards == ("Highly flammable.", "Irritates the skin.")
    shown = " ".join(text.split())
    assert "Read the sheet again" in shown  # 40 MPa is more than the family has
    assert "4.76 mm" in shown and "or °F" in shown
    used = Advisor(rule_base, cards=[card])
    assert used.rule_base.materials["adhesive"]["methacrylate"].values["gap_high"] == card.values["gap_high"]


def test_every_question_says_where_on_a_sheet_its_number_stands(rule_base: RuleBase) -> None:
    not_on_sheets = {"nozzle_loss", "purge", "poisson", "angle", "glass_density"}
    for kind in card_kinds(rule_base):
        fields = fields_of(rule_base.kinds[kind])
        assert {name for name, form in fields.items() if form.unit and not form.where_on_sheet} <= not_on_sheets
        _, text = held(rule_base, {"What do you call the product?": ["A thing"],
                                   "What is it?": [rule_base.kinds[kind].label],
                                   "Which family does it belong to?": ["1"], "Save": ["quit"]})
        shown = " ".join(text.split())
        for form in fields.values():
            assert (f"{form.label} {form.where_on_sheet}" in shown) == bool(form.where_on_sheet)


@pytest.mark.parametrize("kind", ["adhesive", "resin", "reinforcement", "catalyst", "filler", "cleaner"])
def test_a_full_sheet_of_every_kind_gives_a_card(rule_base: RuleBase, kind: str, tmp_path: Path) -> None:
    fields = {name: form for name, form in fields_of(rule_base.kinds[kind]).items() if form.where_on_sheet}

    def typed(name: str) -> str:
        form = fields[name]
        if form.kind in ("choice", "yes_no"):
            return "2"
        low, high = form.plausible or (1.0, 3.0)
        return f"{(low + high) / 2:g} {'' if find_unit(form.unit or 'fraction')[1].symbol == 'fraction' else form.unit}"

    sheet = {form.label: [typed(name)] for name, form in fields.items()}
    draft, text = held(rule_base, {**sheet, "What do you call the product?": ["Full"], "What is it?": [kind],
                                   "Which family does it belong to?": ["1"]})
    assert draft is not None and set(draft.values) == set(fields), text
    path = tmp_path / "card.yaml"
    path.write_text(dumped(draft.content()), encoding="utf-8")
    assert set(read_card(path, rule_base).values) == set(fields)


def test_back_turns_to_the_question_before_and_another_kind_begins_anew(rule_base: RuleBase) -> None:
    draft, text = held(rule_base, {
        "What do you call the product?": ["back", "", "First", "Second"], "What is it?":
        ["adhesive", "back", "cleaner"],
        "Which family does it belong to?": ["back", "back", "acetone"], "Wait after the wipe": ["7 min", "unknown"],
        "Covers": ["back", "9 m2/L"], "Save": ["what", "back", ""]})
    assert draft is not None
    assert draft.content() == {"advisor": 1, "product": "Second", "kind": "cleaner", "family": "acetone",
                               "values": {"coverage": "9 m2/L"}}
    assert "nothing before it" in " ".join(text.split())
    assert "Type Enter, back or quit." in text


@pytest.mark.parametrize("where", ["What do you call the product?", "Covers", "What does the maker warn of?", "Save"])
def test_whoever_quits_leaves_no_card(rule_base: RuleBase, where: str) -> None:
    sheet = {"What do you call the product?": ["A"], "What is it?": ["cleaner"],
             "Which family does it belong to?": ["acetone"], "Covers": ["9 m2/L"]}
    draft, text = held(rule_base, {**sheet, where: ["quit"]})
    assert draft is None and "No card was written." in text


def test_a_card_without_a_number_is_not_saved(rule_base: RuleBase) -> None:
    draft, text = held(rule_base, {"What do you call the product?": ["A"], "What is it?": ["cleaner"],
                                   "Which family does it belong to?": ["acetone"], "Save": ["", "quit"]})
    assert draft is None and "says nothing" in text


def test_the_transcript_in_the_docs_is_what_is_shown_today(rule_base: RuleBase) -> None:
    page = (Path(__file__).parents[2] / "docs" / "product-cards.md").read_text(encoding="utf-8")
    (block,) = [part for part in page.split("```") if part.startswith("\n$ advisor card")]
    lines = iter(["Can of wipe", "cleaner", "isopropyl", "10 min", "12 m2/L", "0.5 L; 1 L",
                  "Highly flammable liquid and vapour.", "", ""])
    asker = typing(lines)
    assert CardInterview(rule_base, asker).hold() is not None
    text = "\n".join(line.rstrip() for line in asker.lines)
    shown = block.strip().removeprefix("$ advisor card can.yaml\n").removesuffix(f"\n{saved('can.yaml')}")
    pieces = [piece.strip("\n") for piece in shown.split("[...]")]
    assert len(pieces) == 3 and all(piece in text for piece in pieces)


def typing(lines: Iterator[str]) -> ScriptedAsker:
    return ScriptedAsker(lines)


def test_the_command_writes_a_card_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
                                        capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "can.yaml"
    lines = ["Can", "cleaner", "acetone", "7 min", "9 m2/L", "", "", ""]
    monkeypatch.setattr(command, "open_asker", lambda plain: typing(iter(lines)))
    assert cli.main(["card", str(path)]) == 0
    assert "--product" in capsys.readouterr().err
    before = path.read_text(encoding="utf-8")
    assert "flash_off_time: 7 min" in before
    assert cli.main(["card", str(path)]) == 1
    assert "--force" in capsys.readouterr().err and path.read_text(encoding="utf-8") == before
    lines[3] = "8 min"
    assert cli.main(["card", str(path), "--force"]) == 0
    assert "flash_off_time: 8 min" in path.read_text(encoding="utf-8")
    lines[3:] = []
    assert cli.main(["card", str(tmp_path / "other.yaml")]) == 130  # left in the middle
    assert not (tmp_path / "other.yaml").exists()
    assert cli.main(["card", str(tmp_path / "no" / "folder.yaml")]) == 1
