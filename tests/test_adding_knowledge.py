"""The worked example of docs/adding-knowledge.md, written into a copy of the rules, is sound and reaches the advice."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from advisor import answer_file
from advisor.audit.expectations import unmet
from advisor.consultation.consult import Advisor
from advisor.consultation.stated import missed
from advisor.engine.compile import compile_rules
from advisor.errors import InputError
from advisor.knowledge.load import load_rule_base

ROOT = Path(__file__).resolve().parents[1]
PAGE = (ROOT / "docs" / "adding-knowledge.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```yaml\n# ((?:rules|scenarios)/\S+)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("exercise")
    shutil.copytree(ROOT / "rules", root / "rules")
    (root / "scenarios").mkdir()
    for name, text in BLOCKS:
        path = root / name
        assert not path.exists(), f"{name} is taken"
        path.write_text(text, encoding="utf-8")
    return root


def test_the_page_shows_every_kind_of_entry() -> None:
    firsts = {text.removeprefix("- ").partition(":")[0] for _, text in BLOCKS}
    assert firsts >= {"source", "face", "fact", "question", "limit", "caution", "rule", "example", "advisor",
                      "adhesive", "reinforcement"}


def test_the_exercise_is_sound_and_its_examples_hold(folder: Path) -> None:
    base = load_rule_base(folder / "rules")
    compile_rules(base)
    advisor = Advisor(base)
    examples = [one for one in base.examples if "teak capping" in one.example]
    assert len(examples) == 2
    for example in examples:
        assert missed(example, advisor.evaluator) == []


def test_the_exercise_reaches_the_advice(folder: Path) -> None:
    advisor = Advisor.from_folder(folder / "rules")
    file = answer_file.read(folder / "scenarios" / "exercise-capping.yaml")
    advice = advisor.consult(file.answers, places=file.places).advice()
    assert any(line.about == "Oily wood, Part B" for line in advice.specification)
    assert unmet(file.expect or {}, advice) == []


def test_the_new_adhesive_is_weighed_and_the_new_glass_is_known(folder: Path) -> None:
    advisor = Advisor.from_folder(folder / "rules")
    file = answer_file.read(ROOT / "scenarios" / "lap-that-fits.yaml")
    choices = {choice.decision: choice for choice in advisor.consult(file.answers).advice().choices}
    (bar,) = [one for one in choices["adhesive"].candidates if one.id == "epoxy_bar"]
    assert "adhesive.epoxy-well" in {line.rule for line in bar.evidence}
    assert advisor.rule_base.catalogues["reinforcement"]["cloth_exercise"]["areal_mass_g_m2"] == 250


def test_without_the_exercise_the_same_answers_are_refused(folder: Path, advisor: Advisor) -> None:
    """So the tests above cannot pass by accident."""
    file = answer_file.read(folder / "scenarios" / "exercise-capping.yaml")
    with pytest.raises(InputError, match="oily_wood"):
        advisor.consult(file.answers, places=file.places)
