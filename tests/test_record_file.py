"""Records of a job: what is accepted, what is refused and how that is told, and what they answer."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import validate

from advisor import record_file
from advisor.cli import main
from advisor.errors import InputError
from advisor.interview.scripted import ScriptedAsker

GOOD: dict[str, Any] = {
    "advisor_record": 1, "title": "Invented fender", "rules": "abc", "saved": "2026-05-01T12:00:00Z", "who": "",
    "answers": {"goal": "plan_repair", "item": "housing", "exposure": ["weather"]},
    "recall": {"goal": "went_wrong", "fault_resin": "epoxy"},
    "readings": [{"name": "Coldest", "question": "fault_temperature", "unit": "C", "value": "6,5", "at": "7:00"}],
    "batches": [{"batch": 1, "done": "", "mixed_at": "12:00", "temperature": "19 C", "mass": "70 g"}],
    "steps": [{"step": 3, "done": "2026", "hold_passed": "", "result": "not right", "note": "tacky"}],
    "maker": [{"text": "Pot life", "value": "20 min"}], "notes": "",
}


def written(folder: Path, content: object) -> Path:
    path = folder / "record.json"
    path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    return path


def test_a_record_answers_what_it_knows(tmp_path: Path) -> None:
    record = record_file.read(written(tmp_path, GOOD))
    answers = record_file.answers_of(record, "record.json")
    assert answers.answers == {"goal": "went_wrong", "item": "housing", "exposure": ["weather"],
                               "fault_resin": "epoxy", "fault_temperature": "6.5 C"}
    assert answers.title == "Invented fender"
    assert "Step 3: not right, tacky" in record_file.told(record)


@pytest.mark.parametrize(("typed", "read"), [("6", "6 C"), ("-2.5", "-2.5 C"), ("43 F", "43 F"), ("6 °C", "6 °C"),
                                             ("about six", "about six")])
def test_a_bare_reading_is_in_the_unit_printed_beside_it(typed: str, read: str, tmp_path: Path) -> None:
    changed = {**GOOD, "readings": [{**GOOD["readings"][0], "value": typed}]}
    record = record_file.read(written(tmp_path, changed))
    assert record_file.answers_of(record, "x").answers["fault_temperature"] == read


@pytest.mark.parametrize(("change", "said"), [
    ({"advisor_record": 2}, "version"), ({"advisor_record": True}, "version"), ({"advisor_record": "1"}, "version"),
    ({"more": 1}, "more"), ({"title": "x" * 500}, "title"), ({"answers": {"Bad name": "x"}}, "answers"),
    ({"answers": {"item": 3}}, "answers.item"), ({"steps": [{"step": "3"}]}, "steps.0.step"),
    ({"steps": [{"step": 3, "result": "fine"}]}, "steps.0.result"), ({"notes": "x" * 5000}, "notes"),
    ({"batches": [{"batch": 0}]}, "batches.0.batch"), ({"readings": "none"}, "readings"),
])
def test_a_mistake_is_named(change: dict[str, Any], said: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as error:
        record_file.read(written(tmp_path, {**GOOD, **change}))
    assert said in str(error.value) and "record.json" in str(error.value)


@pytest.mark.parametrize("text", ["", "advisor: 1\nanswers: {}\n", "[1, 2]", "{}", '{"a": ' * 3000, "\x00"])
def test_what_is_no_record_is_refused(text: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="not a record"):
        record_file.read(written(tmp_path, text))


def test_large_missing_and_binary_files(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="larger than 1000 kB"):
        record_file.read(written(tmp_path, "x" * (record_file.LARGEST + 1)))
    with pytest.raises(InputError, match="cannot be read"):
        record_file.read(tmp_path / "missing.json")
    (tmp_path / "record.json").write_bytes(b"\xff\xfe\x00{")
    with pytest.raises(InputError, match="not a record"):
        record_file.read(tmp_path / "record.json")


def test_the_schema_accepts_what_is_accepted(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "record"]) == 0
    validate(GOOD, json.loads(capsys.readouterr().out))


def test_an_interview_begins_with_the_record(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """What the record knows is not asked, the sheet is offered at the end, and a taken name is asked again."""
    monkeypatch.setenv("ADVISOR_HOME", str(tmp_path / "home"))
    taken = tmp_path / "taken.html"
    taken.write_text("kept", encoding="utf-8")
    typed = ["resin", "soft", *["unknown"] * 4, "", "", str(taken), str(tmp_path / "sheet.html")]
    asker = ScriptedAsker(typed)
    monkeypatch.setattr("advisor.commands.ask.open_asker", lambda plain: asker)
    full = {**GOOD, "answers": {**GOOD["answers"], "duty": "none_of_these", "site": "none_of_these",
                                "health": "none_of_these", "load_class": "panel"}}
    assert main(["ask", "--record", str(written(tmp_path, full))]) == 0
    shown = asker.text
    assert "What does the part belong to?" not in shown and "Which resin was it?" not in shown
    assert taken.read_text(encoding="utf-8") == "kept"
    assert (tmp_path / "sheet.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


def test_a_record_goes_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.commands.ask.open_asker", lambda plain: ScriptedAsker([]))
    assert main(["ask", "--record", str(written(tmp_path, GOOD)), "--from", "x.yaml"]) == 2
