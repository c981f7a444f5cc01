"""How wide the columns of a table are."""

from __future__ import annotations

from rich.cells import cell_len
from rich.text import Text

GAP = "  "
_COMFORTABLE_COLUMN = 24


def padded(text: Text, width: int) -> Text:
    """The text with blanks after it up to the width."""
    filled = text.copy()
    filled.rstrip()
    filled.append(" " * (width - cell_len(filled.plain)))
    return filled


def widths_for(columns: list[list[str]], width: int) -> list[int] | None:
    """A width for each column, wrapping the widest first; None when the table would be cramped."""
    longest_word = [max(cell_len(word) for text in column for word in text.split() or [""]) for column in columns]
    natural = [max(map(cell_len, column)) for column in columns]
    least = [max(word, min(all_, _COMFORTABLE_COLUMN)) for word, all_ in zip(longest_word, natural, strict=True)]
    room = width - len(GAP) * (len(columns) - 1)
    if sum(least) > room:
        return None
    while sum(natural) > room:
        widest = max(range(len(natural)), key=lambda place: natural[place] - least[place])
        natural[widest] -= 1
    return natural
