"""Which back-end suits the terminal there is."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping

from advisor.errors import UsageError
from advisor.interview import words
from advisor.interview.asker import Asker
from advisor.interview.plain import PlainAsker

PLAIN_VARIABLE = "ADVISOR_PLAIN"
_SIMPLE_TERMINALS = frozenset({"", "dumb", "unknown"})


def open_asker(plain: bool = False) -> Asker:
    """The back-end for this terminal; the plain one where asked for or where nothing else would work.

    Raises:
        UsageError: when there is no terminal; it says how to use an answer file instead.
    """
    if not all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stderr)):
        raise UsageError(words.NO_TERMINAL, help=words.NO_TERMINAL_HELP)
    if plain or wants_plain(os.environ):
        return PlainAsker()
    from advisor.interview.prompts import PromptAsker, Unsuitable  # slow to import, and not for every terminal
    try:
        return PromptAsker()
    except Unsuitable:
        return PlainAsker()


def wants_plain(environment: Mapping[str, str]) -> bool:
    """Whether the environment asks for plain lines: ADVISOR_PLAIN or ACCESSIBLE is set, or the terminal is simple."""
    if any(environment.get(name, "") not in ("", "0") for name in (PLAIN_VARIABLE, "ACCESSIBLE")):
        return True
    return os.name != "nt" and environment.get("TERM", "") in _SIMPLE_TERMINALS
