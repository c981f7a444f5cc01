"""Terminals that change their size, are narrow, simple, without colour, or cannot hold every sign."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from advisor import answer_file
from tests.interview.screens import REPOSITORY, Open, Terminal

pytestmark = pytest.mark.timeout(60)

LONG = "cannot stand on one line of a narrow terminal and therefore has to be wrapped"
JOINING = (("1", "Which wood is it?"), ("1", "How wide is the gap?"), ("2 mm", "How long is the board?"),
           ("1 m", "How warm is the place?"), ("68 F", "What will it be exposed to?"), ("1", "Have you clamps?"),
           ("y", "Enter gives the advice."), ("", "Ask (Enter: go on):"))


def flat(terminal: Terminal) -> str:
    return " ".join("\n".join(terminal.lines).split())


def joined(terminal: Terminal, end: str) -> None:
    """From the name to the advice."""
    terminal.until("Name:")
    terminal.type(f"Job{end}", "What do you want to do?")
    for typed, until in JOINING:
        terminal.type(f"{typed}{end}", until)


@pytest.mark.parametrize(("extra", "end"), [((), "\r"), (("--plain",), "\n")])
def test_a_window_made_narrow_and_wide_in_the_middle(open_terminal: Open, tmp_path: Path, extra: tuple[str, ...],
                                                     end: str) -> None:
    terminal = open_terminal(*extra, rows=40)
    terminal.until("Name:")
    terminal.type(f"Job{end}", "What do you want to do?")
    terminal.child.send("jo")
    terminal.until("jo")
    terminal.resize(40, 40)
    terminal.type(f"in{end}", "5  I don't know")
    assert all(len(line) <= 39 for line in terminal.lines[-15:])
    assert LONG in flat(terminal)
    for rows, columns in ((12, 25), (40, 120), (24, 41), (40, 100)):
        terminal.resize(rows, columns)
    terminal.type(f"plywood{end}", "How wide is the gap?")
    terminal.resize(40, 100)
    terminal.type(f"3 mm{end}", "How long is the board?")
    terminal.type("\x03", "ENDED interrupted")
    assert "Traceback" not in terminal.raw
    assert answer_file.read(tmp_path / "kept" / "job.yaml").answers == {"goal": "join", "wood": "plywood",
                                                                        "gap": "3 mm"}


@pytest.mark.parametrize(("extra", "end"), [((), "\r"), (("--plain",), "\n")])
def test_forty_columns_from_the_name_to_the_sheet(open_terminal: Open, extra: tuple[str, ...], end: str) -> None:
    terminal = open_terminal(*extra, command=True, rows=60, columns=40)
    joined(terminal, end)
    assert "Glue it" in flat(terminal)
    terminal.type(end, "File (Enter: none):")
    assert "Traceback" not in terminal.raw
    if "--plain" in extra:  # there nothing is drawn twice, and a line is what stands between two ends
        assert max(map(len, terminal.raw.split("\r\n"))) <= 40


@pytest.mark.parametrize(("extra", "environment"), [
    (("--plain",), {}), ((), {"ADVISOR_PLAIN": "1"}), ((), {"ACCESSIBLE": "1"}), ((), {"TERM": "dumb"})])
def test_plain_lines_to_the_very_end(open_terminal: Open, extra: tuple[str, ...],
                                     environment: dict[str, str]) -> None:
    """For a screen reader: the advice too is lines that stay, without colour, bold or a cursor that moves."""
    terminal = open_terminal(*extra, command=True, rows=60, **environment)
    joined(terminal, "\n")
    assert "Glue it" in flat(terminal)
    assert "\x1b" not in terminal.raw
    assert "\r" not in terminal.raw.replace("\r\n", "")
    assert "\b" not in terminal.raw


@pytest.mark.parametrize(("encoding", "degree", "end"), [
    ("ascii", "deg", "\r"), ("ascii", "deg", "\n"), ("latin-1", "\N{DEGREE SIGN}", "\r"),
    ("latin-1", "\N{DEGREE SIGN}", "\n")])
def test_signs_that_the_terminal_lacks_are_spelled(open_terminal: Open, encoding: str, degree: str, end: str) -> None:
    extra = ("--plain",) if end == "\n" else ()
    terminal = open_terminal(*extra, command=True, rows=60, encoding="latin-1" if encoding == "ascii" else encoding,
                             PYTHONIOENCODING=encoding)
    joined(terminal, end)
    terminal.until("Ask (Enter")
    assert f"= 68 {degree}F = 20 {degree}C" in flat(terminal)
    assert "?C" not in terminal.raw
    assert "Traceback" not in terminal.raw


def test_a_locale_without_signs(open_terminal: Open, tmp_path: Path) -> None:
    environment = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    terminal = open_terminal("--plain", **environment)
    terminal.until("Name:")
    terminal.type("Fl\N{LATIN SMALL LETTER U WITH DIAERESIS}gel\n", "What do you want to do?")
    terminal.type("1\n", "Which wood is it?")
    terminal.type("quit\n", "ENDED left")
    assert "Traceback" not in terminal.raw
    (kept,) = (tmp_path / "kept").glob("*.yaml")
    assert answer_file.read(kept).answers == {"goal": "join"}


WARM = "Fl\N{LATIN SMALL LETTER U WITH DIAERESIS}gel 21 \N{DEGREE SIGN}C 300 cm\N{SUPERSCRIPT TWO}"


@pytest.fixture
def warm(tmp_path: Path) -> str:
    """An answer file whose title holds signs that not every terminal has."""
    path = tmp_path / "warm.yaml"
    given: dict[str, str] = {"goal": "join", "wood": "pine", "gap": "2 mm", "length": "1 m", "warmth": "21 C"}
    path.write_text(answer_file.written(WARM, given), encoding="utf-8")
    return str(path)


def piped(rules: Path, *command: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([sys.executable, "-m", "advisor", *command, "--rules", str(rules)], capture_output=True,
                          timeout=50, check=False, input=b"",
                          env={**os.environ, "PYTHONPATH": str(REPOSITORY), "TERM": "xterm", **environment})


def test_piped_advice_holds_no_escapes_and_loses_no_sign(rules: Path, warm: str) -> None:
    whole = piped(rules, "advise", warm, PYTHONUTF8="1").stdout
    assert b"\x1b" not in whole
    assert WARM in whole.decode("utf-8")
    bare = piped(rules, "advise", warm, PYTHONIOENCODING="ascii").stdout.decode("ascii")
    assert "Flugel 21 degC 300 cm^2" in bare
    assert bare.count("?") == whole.decode("utf-8").count("?")


@pytest.mark.parametrize("command", [("advise", "--as", "json"), ("sheet",)])
def test_files_of_a_fixed_format_are_utf_8_whatever_the_terminal_holds(rules: Path, warm: str,
                                                                       command: tuple[str, ...]) -> None:
    printed = piped(rules, *command, warm, PYTHONIOENCODING="latin-1").stdout
    assert WARM in printed.decode("utf-8")


def test_piped_into_the_interview_it_says_what_to_use_instead(rules: Path) -> None:
    done = piped(rules, "ask")
    assert done.returncode == 2
    assert done.stdout == b""
    assert b"advisor advise FILE" in done.stderr
