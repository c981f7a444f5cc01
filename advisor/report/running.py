"""Many short entries as one paragraph, for the report that is read at the bench."""

from __future__ import annotations

import re
from collections.abc import Iterable

from advisor.report import phrases

_SENTENCE_END = re.compile(r"(?<=[.!?])\s+(?=[A-Z])")
_ENDS = (".", "!", "?")


def first_sentence(text: str) -> str:
    """What stands before the second sentence."""
    return _SENTENCE_END.split(text, maxsplit=1)[0]


def sentence(text: str) -> str:
    """The text with a full stop where it has no end of its own."""
    return text if text.endswith(_ENDS) or not text else f"{text}."


def listed(entries: Iterable[str]) -> str:
    """Entries parted by semicolons, as one sentence; no full stop stays inside."""
    return sentence("; ".join(entry.rstrip(".") for entry in entries))


def row_in_words(headings: tuple[str, ...], row: tuple[str, ...]) -> str:
    """A row of a table as words: `Session 1: plies 1 to 3, builds 3 mm`; of many alike, each is that."""
    cells = (f"{_small(name)} {cell}" for name, cell in zip(headings[1:], row[1:], strict=True))
    first = f"{headings[0]} {row[0]}" if row[0][:1].isdigit() else row[0]
    if f" {phrases.TO} " in row[0]:
        first = f"{first}, {phrases.EACH}"
    return f"{first}: {', '.join(cells)}"


def _small(name: str) -> str:
    """A heading inside a sentence; one in capitals stays as it is."""
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]
