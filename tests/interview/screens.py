"""A process on a real pseudo-terminal, seen as a person sees it."""

from __future__ import annotations

import signal
import time
from collections.abc import Callable
from pathlib import Path

import pexpect
import pyte

REPOSITORY = Path(__file__).resolve().parents[2]
DRIVER = Path(__file__).with_name("driver.py")
WAIT_S = 15


def ctrl_c_counts() -> None:
    """A job in the background of a shell ignores Ctrl-C, and so would everything that it starts."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Terminal:
    """A process on a pseudo-terminal, with the screen it draws."""

    def __init__(self, child: pexpect.spawn, rows: int, columns: int) -> None:
        self.child, self.raw = child, ""
        self.screen = pyte.Screen(columns, rows)
        self.stream = pyte.Stream(self.screen)

    @property
    def lines(self) -> list[str]:
        return [line.rstrip() for line in self.screen.display]

    def until(self, text: str) -> None:
        """Wait until the text stands on the screen."""
        end = time.monotonic() + WAIT_S
        while not any(text in line for line in self.lines):
            assert time.monotonic() < end, f"{text!r} did not appear:\n" + "\n".join(self.lines)
            try:
                more = self.child.read_nonblocking(4096, timeout=0.2)
            except pexpect.TIMEOUT:
                continue
            except pexpect.EOF:
                more = ""
                end = min(end, time.monotonic() + 0.5)
            self.raw += more
            self.stream.feed(more)

    def resize(self, rows: int, columns: int) -> None:
        """Give the terminal another size, as a person who drags the window's corner."""
        self.child.setwinsize(rows, columns)
        self.screen.resize(rows, columns)

    def type(self, typed: str, until: str) -> None:
        self.child.send(typed)
        self.until(until)


Open = Callable[..., Terminal]
