"""The prompt_toolkit back-end: keys, completion, and what a line would be taken as while it is typed."""

from __future__ import annotations

import asyncio
import os
import sys
from collections.abc import Iterator, Sequence

from prompt_toolkit import PromptSession, print_formatted_text
from prompt_toolkit.application import get_app
from prompt_toolkit.buffer import Buffer
from prompt_toolkit.completion import WordCompleter
from prompt_toolkit.document import Document
from prompt_toolkit.formatted_text import FormattedText
from prompt_toolkit.history import DummyHistory
from prompt_toolkit.input import Input, create_input
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.layout.processors import AfterInput
from prompt_toolkit.output import Output, create_output
from prompt_toolkit.shortcuts import CompleteStyle

from advisor.interview import words
from advisor.interview.asker import Line, Paragraph, wrapped
from advisor.signs import spelled

_UNTIL_DRAWN_S = 0.02


class Unsuitable(Exception):  # noqa: N818
    """This terminal cannot be driven key by key."""


class PromptAsker:
    """Asks on a terminal; writes to standard error, so that standard output holds results only."""

    def __init__(self, source: Input | None = None, target: Output | None = None) -> None:
        self._output = target or _output()
        self._work: Iterator[None] = iter(())
        self._session: PromptSession[str] = PromptSession(
            input=source or create_input(), output=self._output, history=DummyHistory(),
            complete_style=CompleteStyle.READLINE_LIKE, complete_while_typing=False)

    def show(self, paragraph: Paragraph) -> None:
        """Print a paragraph as ordinary lines that stay in the scroll-back."""
        style = "bold" if paragraph.strong and "NO_COLOR" not in os.environ else ""
        lines = wrapped(paragraph, self._output.get_size().columns - 1)
        text = spelled("\n".join(lines), self._output.encoding())
        print_formatted_text(FormattedText([(style, text)]), output=self._output)

    def meanwhile(self, work: Iterator[None]) -> None:
        """Work to go on with, a bit at a time, whenever no key waits to be heard."""
        self._work = work

    def read(self, line: Line) -> str:
        """Read one line.

        Raises:
            KeyboardInterrupt, EOFError: at Ctrl-C and Ctrl-D.
        """
        return self._session.prompt(
            line.prompt, pre_run=self._begin_work, key_bindings=_keys(line),
            input_processors=[_taken_as(line, self._output)],
            completer=WordCompleter([*line.choices, *line.words], ignore_case=True, sentence=True))


    def _begin_work(self) -> None:
        get_app().create_background_task(self._go_on())

    async def _go_on(self) -> None:
        await asyncio.sleep(_UNTIL_DRAWN_S)
        for _ in self._work:
            await asyncio.sleep(0)


def _output() -> Output:
    try:
        output = create_output(stdout=sys.stderr)
    except Exception as error:
        # Some Windows shells have no console to draw on; the class to catch exists on Windows only.
        if type(error).__name__ == "NoConsoleScreenBufferError":
            raise Unsuitable(str(error)) from error
        raise
    if hasattr(output, "enable_cpr"):
        output.enable_cpr = False  # nothing here needs the cursor's place, and not every terminal tells it
    return output


def _taken_as(line: Line, output: Output) -> AfterInput:
    """Behind the cursor: how the text typed so far would be understood."""
    def text() -> str:
        app = get_app()
        if app.is_done:
            return ""
        meaning = spelled(line.taken_as(app.current_buffer.text), output.encoding())
        return f"   ({meaning})" if meaning else ""
    return AfterInput(text)


def _keys(line: Line) -> KeyBindings:
    keys = KeyBindings()

    @keys.add("c-b")
    def _back(event: KeyPressEvent) -> None:
        event.app.exit(result=words.BACK)

    @keys.add("f1")
    def _help(event: KeyPressEvent) -> None:
        event.app.exit(result=words.HELP)

    @keys.add("down")
    def _down(event: KeyPressEvent) -> None:
        _move(event.current_buffer, line.choices, line.several, 1)

    @keys.add("up")
    def _up(event: KeyPressEvent) -> None:
        _move(event.current_buffer, line.choices, line.several, -1)

    return keys


def _move(buffer: Buffer, choices: Sequence[str], several: bool, step: int) -> None:
    """Put the number of the next or previous choice into the line; of several, the last one changes."""
    if not choices:
        return
    head, comma, tail = buffer.text.rpartition(",") if several else ("", "", buffer.text)
    digits = tail.strip()
    at = int(digits) if digits.isdecimal() and len(digits) < len(str(len(choices))) + 1 else (0 if step > 0 else 1)
    number = (at - 1 + step) % len(choices) + 1
    text = f"{head}{comma}{' ' if comma else ''}{number}"
    buffer.document = Document(text, len(text))
