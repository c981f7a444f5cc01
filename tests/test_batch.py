"""Many answer files at once: in order, the same on any number of processes, whatever is wrong with one of them."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from advisor.cli import main
from advisor.commands import advise
from advisor.commands.desk import FEW, Desk, Told
from advisor.engine.infer import DurableChainer
from advisor.engine.program import EngineRule, Firing, Posted
from tests.interview.held import write_rules

ANSWERS = """\
advisor: 1
title: Invented bench {number}
answers: {{goal: join, wood: {wood}, gap: {gap} mm, length: 1 m, warmth: 20 C, places: [inside], clamps: yes}}
"""
HANGING, DYING, FAILING, STOPPED, UNREADABLE = 15, 9, 11, 13, 17
MANY = FEW + 5


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_rules(tmp_path_factory.mktemp("batch") / "rules")


@pytest.fixture
def folder(rules: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ADVISOR_RULES", str(rules))
    monkeypatch.chdir(tmp_path)
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    for number in range(20):
        text = ANSWERS.format(number=number, wood=("pine", "oak", "plywood", "board")[number % 4], gap=number)
        (jobs / f"{number:02}.yaml").write_text(text, encoding="utf-8")
    (jobs / f"{STOPPED}.yaml").write_text("advisor: 1\nanswers: {goal: ask_first}\n", encoding="utf-8")
    (jobs / "notes.txt").write_text("not for the program", encoding="utf-8")
    (jobs / ".hidden.yaml").write_text("not for the program", encoding="utf-8")
    (jobs / "older").mkdir()
    return jobs


@dataclass(frozen=True)
class Planted(Desk):
    """A desk whose engine hangs, dies or raises on a fact."""

    patience: float = 3.0

    def build(self) -> Callable[[Path], Told]:
        whole = DurableChainer.run_rules

        def run_rules(chainer: DurableChainer, name: str, rules: Sequence[EngineRule],
                      facts: Sequence[Posted]) -> list[Firing]:
            found = {fact.id for fact in facts}
            while f"gap={HANGING}" in found:
                pass
            if f"gap={DYING}" in found:
                os._exit(9)
            if f"gap={FAILING}" in found:
                raise MemoryError("no room")
            return whole(chainer, name, rules, facts)

        changed: Any = DurableChainer
        changed.run_rules = run_rules
        return super().build()


def test_a_folder_gives_a_line_of_json_for_each_file_in_order(
        folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["advise", "jobs", "--as", "json"]) == 3
    told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [line["file"] for line in told] == [f"jobs/{number:02}.yaml" for number in range(20)]
    assert [line["status"] == "stop" for line in told] == [number == STOPPED for number in range(20)]


@pytest.mark.parametrize("form", ["json", "text"])
def test_any_number_of_processes_gives_the_same(
        form: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / f"{UNREADABLE}.yaml").write_text("advisor: 1\nanswers: {gaol: join}\n", encoding="utf-8")
    told = []
    for jobs in ([], ["--jobs", "1"], ["--jobs", "3"]):
        assert main(["advise", "jobs", "--as", form, *jobs]) == 1
        told.append(capsys.readouterr())
    assert told[0].out and told[0].err.count("\n") == told[0].err.count("help:") + 1
    assert f"jobs/{UNREADABLE}.yaml:2" in told[0].err
    assert told[0] == told[1] == told[2]


def test_a_hang_a_crash_and_a_fault_cost_one_file_each(
        folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(advise, "Desk", Planted)
    assert main(["advise", "jobs", "--as", "json", "--jobs", "2", "--out", "advice.jsonl"]) == 1
    said = capsys.readouterr().err
    assert f"jobs/{HANGING:02}.yaml: the process that worked on this file took more than 3 s" in said
    assert f"jobs/{DYING:02}.yaml: the process that worked on this file ended with status 9" in said
    assert f"jobs/{FAILING}.yaml: the program failed on this file: MemoryError: no room (test_batch.py:" in said
    assert said.count("help: this is a fault of the program") == 3
    lost = {HANGING, DYING, FAILING}
    assert [json.loads(line)["file"] for line in Path("advice.jsonl").read_text(encoding="utf-8").splitlines()] == [
        f"jobs/{number:02}.yaml" for number in range(20) if number not in lost]


def test_many_files_go_to_many_processes_by_themselves(
        folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(advise, "Desk", Planted)
    files = ["jobs/00.yaml"] * MANY + [f"jobs/{DYING:02}.yaml"]
    assert main(["advise", *files, "--as", "json"]) == 1
    assert capsys.readouterr().out.count("\n") == MANY


def test_nothing_is_left_behind_where_all_files_are_bad(folder: Path, tmp_path: Path) -> None:
    Path("advice.jsonl").write_text("earlier\n", encoding="utf-8")
    assert main(["advise", "no.yaml", "nor.yaml", "--out", "advice.jsonl"]) == 1
    assert Path("advice.jsonl").read_text(encoding="utf-8") == "earlier\n"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["advice.jsonl", "jobs"]


def test_a_link_is_written_through_and_a_device_as_it_is(folder: Path) -> None:
    Path("real.jsonl").write_text("", encoding="utf-8")
    Path("link.jsonl").symlink_to("real.jsonl")
    assert main(["advise", "jobs/00.yaml", "--as", "json", "--out", "link.jsonl"]) == 0
    assert Path("link.jsonl").is_symlink() and json.loads(Path("real.jsonl").read_text(encoding="utf-8"))
    assert main(["advise", "jobs/00.yaml", "--out", "/dev/null"]) == 0
    assert main(["advise", "jobs/00.yaml", "--out", "/dev/full"]) == 1


def test_a_name_that_is_no_text_stands_in_the_json(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    os.rename(folder / "00.yaml", os.fsencode(folder) + b"/\xff\x1b.yaml")
    assert main(["advise", str(folder), "--as", "json"]) == 3
    last = json.loads(capsys.readouterr().out.splitlines()[-1])
    assert last["file"].endswith("jobs/\\udcff\x1b.yaml")
