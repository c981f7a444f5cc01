"""Fixtures for interviews on the small rule base."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pexpect
import pytest

from advisor.answer_file import AnswerFile
from advisor.consultation.consult import Advisor
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import run
from advisor.store import Store
from tests.interview.held import Interviews, write_rules
from tests.interview.screens import DRIVER, REPOSITORY, WAIT_S, Open, Terminal, ctrl_c_counts


@pytest.fixture(scope="session")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_rules(tmp_path_factory.mktemp("small") / "rules")


@pytest.fixture(scope="session")
def small(rules: Path) -> Advisor:
    return Advisor.from_folder(rules)


@pytest.fixture
def interviews(small: Advisor, tmp_path: Path) -> Interviews:
    return Interviews(small, Store(tmp_path / "state" / "consultations"))


@pytest.fixture
def ask_once(small: Advisor) -> Callable[[str, str], str]:
    """What is shown when one text is typed at one question and then nothing more."""
    def once(question: str, typed: str) -> str:
        before: dict[str, str | list[str]] = {"goal": "join", "wood": "pine", "gap": "2 mm", "length": "1 m",
                                              "warmth": "20 C", "places": ["inside"], "clamps": "yes"}
        given = {name: answer for name, answer in before.items() if name != question}
        asker = ScriptedAsker([typed])
        run(small, asker=asker, show_advice=lambda advice: None, answers=AnswerFile("Once", given))
        return asker.text.rpartition("Answer: " + typed)[2]
    return once


@pytest.fixture
def open_terminal(rules: Path, tmp_path: Path) -> Iterator[Open]:
    opened: list[pexpect.spawn] = []

    def start(*extra: str, rows: int = 24, columns: int = 80, encoding: str = "utf-8", command: bool = False,
              **environment: str) -> Terminal:
        kept = {name: value for name, value in os.environ.items()
                if name not in ("NO_COLOR", "ACCESSIBLE", "ADVISOR_PLAIN", "COLUMNS", "LINES", "PYTHONIOENCODING")}
        environ = {**kept, "PYTHONPATH": str(REPOSITORY), "TERM": "xterm", "PYTHONUTF8": "1",
                   "ADVISOR_HOME": str(tmp_path / "home"), **environment}
        what = ["-m", "advisor", "ask", "--rules", str(rules)] if command else [
            str(DRIVER), str(rules), str(tmp_path / "kept")]
        child = pexpect.spawn(sys.executable, [*what, *extra], env=environ, dimensions=(rows, columns),
                              encoding=encoding, timeout=WAIT_S, preexec_fn=ctrl_c_counts)
        opened.append(child)
        return Terminal(child, rows, columns)
    yield start
    for child in opened:
        child.close(force=True)
