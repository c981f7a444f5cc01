"""The interview on a real pseudo-terminal, seen as a person sees it."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
from pathlib import Path

import pexpect
import pytest

from advisor import answer_file
from advisor.interview import words
from advisor.interview.asker import Line, Paragraph
from advisor.interview.plain import PlainAsker
from advisor.interview.terminal import wants_plain
from tests.interview.screens import DRIVER, REPOSITORY, WAIT_S, Open, Terminal

pytestmark = pytest.mark.timeout(60)


def test_a_whole_interview_at_80_by_24(open_terminal: Open, tmp_path: Path) -> None:
    terminal = open_terminal()
    terminal.until("Name:")
    terminal.type("A bench\r", "3  Something nobody may do alone")
    terminal.type("\x1b[B", "Answer: 1   (Join two boards)")
    terminal.type("\r", "Which wood is it?")
    terminal.type("2", "Answer: 2   (Oak or another hard wood)")
    terminal.type("\r", "How wide is the gap?")
    terminal.type("1/2 in", "(1/2 in = 12.7 mm)")
    terminal.type("\r", "How long is the board?")
    assert "  = 1/2 in = 12.7 mm" in terminal.lines
    terminal.type("\x02", "Question 3 again")
    terminal.type("\r", "Question 4,")
    terminal.type("wide\r", "is not understood")
    terminal.type("2 m\r", "How warm")
    terminal.type("68 F\r", "exposed to?")
    terminal.type("1, 2\r", "Have you clamps?")
    terminal.type("y\r", "Enter gives the advice.")
    terminal.type("\r", "Enter goes on.")
    assert "METHOD nail" in terminal.lines
    terminal.type("why not glue\r", "You said: oak")
    terminal.type("\r", "ENDED advised")
    assert answer_file.read(tmp_path / "kept" / "a-bench.yaml").answers["gap"] == "1/2 in"


def test_ctrl_c_and_ctrl_d_leave_politely(open_terminal: Open, tmp_path: Path) -> None:
    for number, key in enumerate(("\x03", "\x04")):
        terminal = open_terminal()
        terminal.until("Name:")
        terminal.type(f"Job {number}\r", "What do you want to do?")
        terminal.type("1\r", "Which wood is it?")
        terminal.type(key, "ENDED interrupted")
        assert any("advisor ask --resume job-" in line for line in terminal.lines)
        assert "Traceback" not in terminal.raw
        assert answer_file.read(tmp_path / "kept" / f"job-{number}.yaml").answers == {"goal": "join"}


def test_a_narrow_terminal_wraps_and_cuts_nothing_off(open_terminal: Open) -> None:
    terminal = open_terminal(columns=40)
    terminal.until("Name:")
    terminal.type("\r", "What do you want to do?")
    terminal.type("1\r", "5  I don't know")
    assert "cannot stand on one line of a narrow terminal and therefore has to be wrapped" in " ".join(
        "\n".join(terminal.lines).split())


def test_two_interviews_on_one_job(open_terminal: Open, tmp_path: Path) -> None:
    first = open_terminal("--plain", command=True)
    first.until("Name:")
    first.type("A gate\n", "What do you want to do?")
    first.type("1\n", "Which wood is it?")
    second = open_terminal("--plain", "--resume", "a-gate", command=True, columns=200)
    second.until("Enter, or quit:")
    assert any(f"(process {first.child.pid} on " in line for line in second.lines)
    second.type("\n", "Which wood is it?")
    second.type("oak\n", "How wide is the gap?")
    first.type("pine\n", "How wide is the gap?")
    second.type("quit\n", "advisor ask --resume a-gate-2")
    first.child.kill(signal.SIGKILL)
    folder = tmp_path / "home" / "consultations"
    assert answer_file.read(folder / "a-gate.yaml").answers == {"goal": "join", "wood": "pine"}
    third = open_terminal("--plain", "--resume", "a-gate", command=True)
    third.until("How wide is the gap?")
    (copy,) = folder.glob("a-gate-2*.yaml")
    assert answer_file.read(copy).answers == {"goal": "join", "wood": "oak"}


@pytest.mark.parametrize(("extra", "environment"), [
    ((), {"TERM": "dumb"}), (("--plain",), {}), ((), {"ACCESSIBLE": "1"}),
])
def test_plain_lines_hold_no_escapes_at_all(open_terminal: Open, extra: tuple[str, ...],
                                            environment: dict[str, str]) -> None:
    terminal = open_terminal(*extra, **environment)
    terminal.until("Name:")
    terminal.type("\n", "What do you want to do?")
    terminal.type("mend\n", "= Mend a broken board")
    terminal.type("back\n", "Earlier answer: Mend a broken board.")
    terminal.type("\n", "Question 2,")
    terminal.type("unknown\n", "How long is the board?")
    terminal.type("\x03", "ENDED interrupted")
    assert "\x1b" not in terminal.raw
    assert "Traceback" not in terminal.raw


def test_ctrl_d_leaves_the_plain_interview(open_terminal: Open) -> None:
    terminal = open_terminal(TERM="dumb")
    terminal.until("Name:")
    terminal.type("\x04", "ENDED interrupted")


def test_without_colour_nothing_is_coloured(open_terminal: Open) -> None:
    terminal = open_terminal(NO_COLOR="1")
    terminal.until("Name:")
    terminal.type("\r", "What do you want to do?")
    assert all(cell.fg == cell.bg == "default" and not cell.bold
               for row in terminal.screen.buffer.values() for cell in row.values())


@pytest.mark.parametrize("term", ["xterm", "dumb"])
def test_results_go_to_a_file_and_prompts_to_the_person(rules: Path, tmp_path: Path, term: str) -> None:
    results = tmp_path / "results.txt"
    command = f'exec "{sys.executable}" "{DRIVER}" "{rules}" "{tmp_path / "kept"}" >"{results}"'
    child = pexpect.spawn("/bin/sh", ["-c", command], env={**os.environ, "PYTHONPATH": str(REPOSITORY), "TERM": term},
                          dimensions=(24, 80), encoding="utf-8", timeout=WAIT_S)
    terminal = Terminal(child, 24, 80)
    for prompt, typed in (("Name:", "\r"), ("What do you want", "3\r"), ("Ask (Enter", "\r"),
                          ("advisor ask --resume", "")):
        terminal.until(prompt)
        child.send(typed)
    child.expect(pexpect.EOF)
    assert results.read_text(encoding="utf-8") == "METHOD None\nENDED advised\n"


def test_without_a_terminal_it_says_how_to_use_an_answer_file(rules: Path, tmp_path: Path) -> None:
    done = subprocess.run([sys.executable, str(DRIVER), str(rules), str(tmp_path)], input="1\n", text=True, timeout=20,
                          capture_output=True, env={**os.environ, "PYTHONPATH": str(REPOSITORY)}, check=False)
    assert done.returncode == 1
    assert done.stdout == ""
    assert "advisor advise FILE" in done.stderr
    assert done.stderr.endswith("[2]\n")


@pytest.mark.parametrize(("environment", "plain"), [
    ({"TERM": "xterm-256color"}, False), ({"TERM": "dumb"}, True), ({}, True),
    ({"TERM": "xterm", "ACCESSIBLE": "1"}, True),
    ({"TERM": "xterm", "ADVISOR_PLAIN": "yes"}, True), ({"TERM": "xterm", "ACCESSIBLE": "0"}, False),
])
def test_which_back_end(environment: dict[str, str], plain: bool) -> None:
    assert wants_plain(environment) is plain or os.name == "nt"


def test_plain_lines_in_an_encoding_that_lacks_signs() -> None:
    held = io.BytesIO()
    target = io.TextIOWrapper(held, encoding="ascii")
    asker = PlainAsker(io.StringIO("20 \N{DEGREE SIGN}C\r\n"), target, width=40)
    asker.show(Paragraph("20 \N{DEGREE SIGN}C"))
    assert asker.read(Line(words.ANSWER_PROMPT)) == "20 \N{DEGREE SIGN}C"
    assert held.getvalue() == b"20 degC\nAnswer: "
    with pytest.raises(EOFError):
        asker.read(Line(words.ANSWER_PROMPT))


def test_bytes_that_are_no_text_do_not_end_the_interview() -> None:
    source = io.TextIOWrapper(io.BytesIO(b"\xff\xfe\n"), encoding="utf-8")
    assert PlainAsker(source, io.StringIO()).read(Line(words.ANSWER_PROMPT)) == "\N{REPLACEMENT CHARACTER}"
