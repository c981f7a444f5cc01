"""What README and docs show is what the program prints today; `[...]` and `...` stand for what is left out.

`python -m tests.test_transcripts` prints the interview that docs/interview.md is cut from, and writes
docs/sample-report.md anew.
"""

from __future__ import annotations

import contextlib
import io
import re
from pathlib import Path

import pytest

from advisor import cli
from advisor.consultation.consult import Advisor
from advisor.interview import words
from advisor.interview.asker import Line
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import run

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "docs" / "sample-report.md"
LEFT_OUT = re.compile(r"^ *(?:\[\.\.\.\]|\.\.\.)$|\[\.\.\.\]$", re.MULTILINE)
BLOCK = re.compile(r"^```\n(.*?)^```$", re.MULTILINE | re.DOTALL)
MARK = re.compile(r"mark [0-9a-f]{12}")
TITLE = "Crack beside the rear lamp"
TYPED = {  # an invented case: all that is typed at each question; whatever is not here is not known
    "goal": ["2"], "item": ["2"], "duty": ["none of these"], "site": ["none of these"], "health": ["none of these"],
    "load_class": ["panel's own"], "exposure": ["2, 3 and 10"], "face_a": ["help", "thin glass skin", "9"],
    "surface_state": ["gel coat"], "panel_thickness": ["1.5 mm"], "damage_kind": ["crack through"],
    "damage_length": ["120", "12 cm"], "damage_width": ["back", "1 cm"], "tap_test": ["why", "dull"],
    "cause_mended": ["no idea"], "air_temperature": ["20 C"],
}


class Person:
    """Types what is written above at the question that stands on the screen."""

    def __init__(self, advisor: Advisor) -> None:
        self.asker = ScriptedAsker(self)
        self.asks = {question.ask: name for name, question in advisor.rule_base.questions.items()}
        self.left = {name: list(lines) for name, lines in TYPED.items()}
        self.essential = {name for name, question in advisor.rule_base.questions.items() if question.essential == "yes"}
        self.typed = 0

    def __call__(self, line: Line) -> str:
        if line.prompt == words.TITLE_PROMPT:
            return TITLE
        if line.prompt in (words.REVIEW_PROMPT, words.ASK_PROMPT, words.ONWARD_PROMPT):
            return ""
        heads = [place for place, text in enumerate(self.asker.lines) if text.startswith("Question ")]
        shown = " ".join(self.asker.lines[heads[-1] + 1:])
        name = self.asks[max((ask for ask in self.asks if shown.startswith(ask)), key=len)]
        self.typed += 1
        assert self.typed < 60, f"the interview does not go on from {name}"
        left = self.left.get(name, [])
        return left.pop(0) if left else "1" if name in self.essential else words.UNKNOWN


@pytest.fixture(scope="module")
def whole_interview(advisor: Advisor) -> str:
    return held(advisor)


def held(advisor: Advisor) -> str:
    person = Person(advisor)
    assert run(advisor, asker=person.asker, show_advice=lambda advice: None).ended == "advised"
    return person.asker.text


def printed(*command: str) -> str:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        cli.main(list(command))
    return MARK.sub("mark", out.getvalue())


def pieces(page: Path, part: int) -> list[str]:
    """The pieces of one transcript of a page between what is left out."""
    block = BLOCK.findall(page.read_text(encoding="utf-8"))[part]
    return [piece.strip("\n") for piece in LEFT_OUT.split(block) if piece.strip()]


def test_the_interview_in_the_docs_is_the_one_held_today(whole_interview: str) -> None:
    for piece in pieces(ROOT / "docs" / "interview.md", 0):
        assert piece.removeprefix("$ advisor\n") in whole_interview


def test_the_interview_in_readme_is_the_one_held_today(advisor: Advisor) -> None:
    asker = ScriptedAsker([TITLE, "2", "why", "help"])
    run(advisor, asker=asker, show_advice=lambda advice: None)
    (piece,) = pieces(ROOT / "README.md", 2)
    assert piece in asker.text


def test_the_report_in_readme_is_the_one_printed_today(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    report = printed("advise", str(ROOT / "scenarios" / "lap-that-fits.yaml"))
    for piece in pieces(ROOT / "README.md", 3):
        assert piece in report


def test_the_sample_report_is_the_one_printed_today() -> None:
    note, _, report = SAMPLE.read_text(encoding="utf-8").partition("\n")
    name = note.split("scenarios/")[1].split(".yaml")[0]
    assert MARK.sub("mark", report) == printed("advise", str(ROOT / "scenarios" / f"{name}.yaml"), "--as", "markdown")


if __name__ == "__main__":
    print(held(Advisor.from_folder()))
    first = SAMPLE.read_text(encoding="utf-8").partition("\n")[0]
    output = io.StringIO()
    with contextlib.redirect_stdout(output):
        cli.main(["advise", str(ROOT / first.split(" ")[3]), "--as", "markdown"])
    SAMPLE.write_text(f"{first}\n{output.getvalue()}", encoding="utf-8")
