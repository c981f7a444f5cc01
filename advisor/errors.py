"""One shape for every message: where it is, what is wrong, what would help."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

QUOTE_LIMIT = 80
_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
_INVISIBLE = _HIDDEN | {"Cn", "Co"}
_IN_TEXTS = frozenset("\n\t")
_LONGEST_COMPARED = 60
MOST_SHOWN = 100


def _message(what: str, where: str | None, help: str | None) -> str:
    first = f"{where}: {what}" if where else what
    return f"{first}\n  help: {help}" if help else first


@dataclass(frozen=True)
class Problem:
    """One thing wrong in the rules folder; `where` is file:line."""

    what: str
    where: str | None = None
    help: str | None = None

    def __str__(self) -> str:
        return _message(self.what, self.where, self.help)


class AdvisorError(Exception):
    """Something a person can put right; `where` is file:line or a question id.

    `what` is lower case, one sentence, no full stop, with the person's own text in backticks
    (use `quoted`). Anything raised that is not an AdvisorError is a fault of the program.
    """

    exit_status: ClassVar[int] = 1

    def __init__(self, what: str, where: str | None = None, help: str | None = None) -> None:
        super().__init__(what, where, help)
        self.what = what
        self.where = where
        self.help = help

    def __str__(self) -> str:
        return _message(self.what, self.where, self.help)


class InputError(AdvisorError):
    """What the person gave cannot be used."""


class UsageError(AdvisorError):
    """The command was called wrongly."""

    exit_status: ClassVar[int] = 2


class KnowledgeError(AdvisorError):
    """The rules folder cannot be used; holds every problem found, and prints the first of them."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        count = len(self.problems)
        super().__init__(f"{count} problem{'' if count == 1 else 's'} in the rules")

    def __str__(self) -> str:
        shown = [str(problem) for problem in self.problems[:MOST_SHOWN]]
        more = len(self.problems) - len(shown)
        return "\n".join([*shown, *([f"... and {more} more"] if more else []), self.what])


def near(word: str, candidates: Iterable[str]) -> str | None:
    """The candidate most like `word`, capitals aside, or None when none is close."""
    by_lower = {candidate.casefold(): candidate for candidate in candidates}
    wanted = word[:_LONGEST_COMPARED].casefold()
    found = difflib.get_close_matches(wanted, by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None


def _visible(character: str) -> str:
    if unicodedata.category(character) in _INVISIBLE:
        return character.encode("unicode_escape").decode("ascii")
    return character


def hidden_in(text: str) -> str | None:
    """The first control or format sign of `text` (line breaks and tabs aside), or None when there is none."""
    if text.isprintable():
        return None
    return next((sign for sign in text if unicodedata.category(sign) in _HIDDEN and sign not in _IN_TEXTS), None)


def clean_text(text: str, limit: int = QUOTE_LIMIT) -> str:
    r"""`text` safe to print on a terminal, at most `limit` characters long.

    Control characters, escapes, direction overrides, line breaks and lone surrogates are written
    out (`\x1b`, `\u202e`); what is cut off is marked with `...`.
    """
    cleaned = "".join(_visible(character) for character in text[: limit + 1])
    if len(cleaned) <= limit:
        return cleaned
    return cleaned[: max(limit - 3, 0)] + "..."[:limit]


def quoted(text: str, limit: int = QUOTE_LIMIT) -> str:
    """The person's own text, made safe, in backticks."""
    return f"`{clean_text(text, limit).replace('`', chr(39))}`"
