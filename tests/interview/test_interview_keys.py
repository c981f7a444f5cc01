"""The prompt_toolkit back-end, key by key, without a terminal."""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Iterator

import pytest
from prompt_toolkit.application import create_app_session
from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import PipeInput, create_pipe_input
from prompt_toolkit.output import DummyOutput
from prompt_toolkit.output.vt100 import Vt100_Output

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.interview.asker import Line, Paragraph
from advisor.interview.prompts import PromptAsker
from advisor.interview.session import run

pytestmark = pytest.mark.timeout(30)

DOWN, UP, CTRL_B = "\x1b[B", "\x1b[A", "\x02"
CHOICES = Line("Answer: ", ["Red", "Green, dark", "Blue", "I don't know"], ("back", "help"))
SEVERAL = Line("Answer: ", CHOICES.choices, CHOICES.words, several=True)
AMOUNT = Line("Answer: ")


@pytest.fixture
def keys() -> Iterator[PipeInput]:
    with create_pipe_input() as source, create_app_session(input=source, output=DummyOutput()):
        yield source


@pytest.mark.parametrize(("line", "typed", "read"), [
    (CHOICES, "2\r", "2"), (CHOICES, "blue\r", "blue"), (CHOICES, f"{DOWN}\r", "1"),
    (CHOICES, f"{DOWN}{DOWN}{DOWN}\r", "3"),
    (CHOICES, f"{UP}\r", "4"), (CHOICES, f"{UP}{DOWN}\r", "1"), (CHOICES, f"3{UP}\r", "2"),
    (CHOICES, f"red{DOWN}\r", "1"),
    (SEVERAL, f"1,{DOWN}{DOWN}\r", "1, 2"), (SEVERAL, f"{DOWN}{DOWN}\r", "2"), (SEVERAL, f"1,{UP}\r", "1, 4"),
    (AMOUNT, f"12 mm{DOWN}{UP}\r", "12 mm"), (CHOICES, "Gr\t\r", "Green, dark"), (CHOICES, "he\t\r", "help"),
    (CHOICES, CTRL_B, "back"), (CHOICES, f"half typed{CTRL_B}", "back"), (CHOICES, "\x1bOP", "help"),
    (AMOUNT, "\x1b[200~10 ft\n6 in\x1b[201~\r", "10 ft\n6 in"), (CHOICES, "\r", ""),
])
def test_a_line_is_read(keys: PipeInput, line: Line, typed: str, read: str) -> None:
    keys.send_text(typed)
    assert PromptAsker(keys, DummyOutput()).read(line) == read


@pytest.mark.parametrize(("typed", "raised"), [("\x03", KeyboardInterrupt), ("half\x03", KeyboardInterrupt),
                                               ("\x04", EOFError)])
def test_leaving(keys: PipeInput, typed: str, raised: type[BaseException]) -> None:
    keys.send_text(typed)
    with pytest.raises(raised):
        PromptAsker(keys, DummyOutput()).read(CHOICES)


def test_a_whole_interview_by_keys(keys: PipeInput, small: Advisor) -> None:
    shown: list[Advice] = []
    keys.send_text(f"{DOWN}\r{DOWN}{DOWN}\r{CTRL_B}{DOWN}\r2 mm\r1 m\r68 F\r1 2\ry\r\r\r")
    outcome = run(small, asker=PromptAsker(keys, DummyOutput()), show_advice=shown.append, title="Keys")
    assert outcome.ended == "advised"
    assert shown[0].method == "glue"


def drawn(keys: PipeInput, line: Line, typed: str) -> str:
    target = io.StringIO()
    output = Vt100_Output(target, lambda: Size(rows=24, columns=80), enable_cpr=False)
    asker = PromptAsker(keys, output)
    asker.show(Paragraph("A question?", strong=True))
    keys.send_text(typed)
    asker.read(line)
    return target.getvalue()


def test_no_colour_where_none_is_wanted(keys: PipeInput, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "\x1b[0;1m" in drawn(keys, CHOICES, "1\r")
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\x1b[0;1m" not in drawn(keys, CHOICES, "1\r")
    assert "\x1b[0;3" not in drawn(keys, CHOICES, "1\r")


def test_the_slow_libraries_are_left_out_until_an_interview_needs_them() -> None:
    code = ("import sys; import advisor.interview.session, advisor.interview.terminal, advisor.store;"
            "print([name for name in ('prompt_toolkit', 'rich', 'platformdirs', 'numpy') if name in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=20, check=True)
    assert done.stdout.strip() == "[]"


def test_work_goes_on_while_nobody_types(keys: PipeInput) -> None:
    done = []

    def work() -> Iterator[None]:
        for number in range(3):
            done.append(number)
            yield
        keys.send_text("2\r")  # only now: without the work nobody would ever answer
        yield
        done.append(3)

    asker = PromptAsker(keys, DummyOutput())
    asker.meanwhile(work())
    assert asker.read(CHOICES) == "2"
    assert done[:3] == [0, 1, 2]
    keys.send_text("blue\r")
    assert asker.read(CHOICES) == "blue"


def test_what_is_prepared_changes_no_question(small: Advisor) -> None:
    for _ in small.prepare():
        pass
    question = small.consult({}).next_question()
    assert question is not None
    assert question.question == "goal"
