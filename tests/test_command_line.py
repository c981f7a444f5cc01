"""The commands as a shell sees them: exit status, standard output and standard error."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.store import Store
from tests.interview.held import write_rules

pytestmark = pytest.mark.timeout(60)

REPOSITORY = Path(__file__).resolve().parents[1]
ANSWERS = """\
advisor: 1
title: An invented bench
answers: {goal: join, wood: pine, gap: 2 mm, length: 1 m, warmth: 20 C, places: [inside], clamps: yes}
"""
Shell = Callable[[str], "subprocess.CompletedProcess[str]"]


@pytest.fixture(autouse=True)
def _own_folders(rules: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ADVISOR_RULES", str(rules))
    monkeypatch.setenv("ADVISOR_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bench.yaml").write_text(ANSWERS, encoding="utf-8")
    (tmp_path / "empty").mkdir()


@pytest.fixture(scope="module")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_rules(tmp_path_factory.mktemp("shell") / "rules")


@pytest.fixture
def shell(monkeypatch: pytest.MonkeyPatch) -> Shell:
    """Run a line of bash in which `advisor` is the program; `pipefail` shows its own status."""
    monkeypatch.setenv("PYTHONPATH", str(REPOSITORY))

    def run(line: str) -> subprocess.CompletedProcess[str]:
        script = f'set -o pipefail; advisor() {{ "{sys.executable}" -m advisor "$@"; }}; {line}'
        return subprocess.run(["bash", "-c", script], capture_output=True, text=True, check=False, timeout=50,
                              stdin=subprocess.DEVNULL)
    return run


@pytest.mark.parametrize(("arguments", "status"), [
    (["bogus"], 2), (["ask", "--units", "imperial"], 2), (["schema"], 2), (["saved", "show"], 2), (["advise"], 2),
    (["--bogus"], 2), (["saved", "show", "nothing-here"], 1), (["rule", "zzzzzz"], 1), (["source", "nothing"], 1),
    (["advise", "missing.yaml"], 1), (["advise", "empty"], 1), (["advise", "."], 0), (["saved"], 0),
    (["rule", "--check"], 0), (["advise", "bench.yaml", "--jobs", "0"], 2),
    (["schema", "answers"], 0), (["advise", "bench.yaml"], 0),
])
def test_exit_status(arguments: list[str], status: int) -> None:
    assert main(arguments) == status


def test_a_stop_has_status_3(tmp_path: Path) -> None:
    (tmp_path / "stop.yaml").write_text("advisor: 1\nanswers: {goal: ask_first}\n", encoding="utf-8")
    assert main(["advise", "stop.yaml"]) == 3
    assert main(["advise", "stop.yaml", "bench.yaml"]) == 3
    assert main(["advise", "stop.yaml", "missing.yaml"]) == 1


@pytest.mark.parametrize("options", [[], ["--plain"], ["--resume", "x"], ["--goal", "join", "--units", "us"]])
def test_options_without_a_command_are_those_of_the_interview(
        options: list[str], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", None)
    assert main(options) == 2
    assert "there is no terminal" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [["\x1b[31mx"], ["rule", "\x1b[31mx"], ["source", "\x1b[31mx"],
                                       ["advise", "--as", "\x1b[31mx", "f"], ["saved", "show", "\x1b[31mx"],
                                       ["advise", "\x1b[31mx"]])
def test_nothing_typed_reaches_the_terminal_as_an_escape(
        arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) in (1, 2)
    error = capsys.readouterr().err
    assert "\x1b" not in error
    assert "x1b" in error


@pytest.mark.parametrize("kind", ["rule", "source"])
def test_words_that_nothing_holds_are_said_so(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([kind, "zzzzzz"]) == 1
    assert "try fewer or other words" in capsys.readouterr().err


def test_nothing_saved_is_said_and_one_answer_is_singular(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    main(["saved"])
    empty = capsys.readouterr()
    assert empty.out == ""
    assert f"nothing is saved in {tmp_path / 'home' / 'consultations'}" in empty.err
    Store().create("One", {"goal": "join"})
    Store().create("Two", {"goal": "join", "wood": "oak"})
    main(["saved"])
    listed = capsys.readouterr().out
    assert "one  One, 1 answer, " in listed
    assert "two  Two, 2 answers, " in listed


def test_a_bad_file_leaves_an_earlier_result_alone(tmp_path: Path) -> None:
    result = tmp_path / "result.json"
    assert main(["advise", "bench.yaml", "--as", "json", "--out", str(result)]) == 0
    before = result.read_text(encoding="utf-8")
    assert json.loads(before)["title"] == "An invented bench"
    assert main(["advise", "missing.yaml", "--as", "json", "--out", str(result)]) == 1
    assert result.read_text(encoding="utf-8") == before


@pytest.mark.parametrize("form", ["text", "json", "markdown"])
def test_a_full_disk_is_told_without_a_traceback(shell: Shell, form: str) -> None:
    done = shell(f"advisor advise bench.yaml --as {form} >/dev/full")
    assert done.returncode == 1
    assert done.stderr == "advisor: No space left on device\n"


@pytest.mark.parametrize("form", ["text", "json", "markdown"])
def test_a_reader_who_stops_reading_is_no_fault(shell: Shell, form: str) -> None:
    done = shell(f"advisor advise {' bench.yaml' * 300} --as {form} | head -n 1")
    assert done.returncode == 0
    assert done.stderr == ""


def test_what_cannot_be_read_is_named(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    write_rules(tmp_path / "other")
    (tmp_path / "other" / "folder.yaml").mkdir()
    assert main(["rule", "--rules", str(tmp_path / "other")]) == 1
    assert "folder.yaml" in capsys.readouterr().err


def test_a_rule_is_shown_whole(capsys: pytest.CaptureFixture[str]) -> None:
    main(["rule"])
    name = capsys.readouterr().out.split()[1]
    assert main(["rule", name]) == 0
    shown = capsys.readouterr().out
    assert "\n  when " in shown
    assert "\n  because " in shown
    assert "line " not in shown


def test_the_real_rules_show_limits_and_what_follows(
        capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("ADVISOR_RULES")
    assert main(["rule", "fit.gap-beyond-any-bed"]) == 0
    shown = capsys.readouterr().out
    assert re.search(r"when Gap that is left to fill is above \d+ mm \(", shown)
    assert "then Kind of gap: " in shown


def test_a_source_shows_everything_that_rests_on_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["source", "common-practice"]) == 0
    shown = capsys.readouterr().out
    assert "used by: " in shown
    assert "glue" in shown.split("used by: ")[1]
