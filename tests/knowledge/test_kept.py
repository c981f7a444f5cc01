"""Rules kept from the last reading are the same rules; no change, mistake or damaged file is hidden by them."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from advisor.errors import KnowledgeError
from advisor.knowledge import kept
from advisor.knowledge.load import load_rule_base, rules_folder


@pytest.fixture
def rules(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ADVISOR_HOME", str(tmp_path / "home"))
    shutil.copytree(rules_folder(), tmp_path / "rules")
    return tmp_path / "rules"


def test_the_second_reading_is_the_first(rules: Path) -> None:
    first = load_rule_base(rules, examples=False)
    assert list(kept.folder().glob("rules-*.json"))
    second = load_rule_base(rules, examples=False)
    assert second == first
    assert list(second.rules) == list(first.rules) and second.hash == first.hash


def test_a_changed_file_is_read_afresh(rules: Path) -> None:
    before = load_rule_base(rules, examples=False)
    limits = rules / "limits" / "fit.yaml"
    limits.write_text(limits.read_text(encoding="utf-8").replace("value: 3 mm", "value: 4 mm"), encoding="utf-8")
    after = load_rule_base(rules, examples=False)
    assert after.hash != before.hash and after.numbers["gap_paste_most"] != before.numbers["gap_paste_most"]
    assert len(list(kept.folder().glob("rules-*.json"))) == 1


def test_a_mistake_is_found_however_often_it_is_read(rules: Path) -> None:
    load_rule_base(rules, examples=False)
    (rules / "limits" / "wrong.yaml").write_text("- limit: lonely\n  label: x\n  valeu: 3 mm\n", encoding="utf-8")
    for _ in range(2):
        with pytest.raises(KnowledgeError, match="wrong.yaml"):
            load_rule_base(rules, examples=False)


@pytest.mark.parametrize("damage", [b"", b"[]", b"\0" * 20, b'{"rule": 1}'])
def test_a_damaged_one_is_passed_over(rules: Path, damage: bytes) -> None:
    first = load_rule_base(rules, examples=False)
    (found,) = kept.folder().glob("rules-*.json")
    found.write_bytes(damage)
    assert load_rule_base(rules, examples=False) == first


def test_without_a_place_to_write_the_rules_are_read_all_the_same(
        rules: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder", encoding="utf-8")
    monkeypatch.setenv("ADVISOR_HOME", str(tmp_path / "file"))
    assert load_rule_base(rules, examples=False).rules
