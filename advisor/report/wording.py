"""Text made safe to print: one line, no control characters, nothing that a terminal would obey."""

from __future__ import annotations

from advisor.errors import clean_text

_LONGEST_ESCAPE = 10


def one_line(text: str) -> str:
    r"""All of `text` on one line, white space as single spaces, control characters written out as `\x1b`."""
    flat = " ".join(text.split())
    if flat.isprintable():
        return flat
    return clean_text(flat, _LONGEST_ESCAPE * len(flat) + 1)
