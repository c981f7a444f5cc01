"""After the advice: what can be planned next with the answers kept."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.consultation.advice import OnwardLine
from advisor.interview import present, words
from advisor.interview.asker import BLANK, Asker, Line, Paragraph
from advisor.interview.reading import tidy


def chosen(asker: Asker, onward: Sequence[OnwardLine]) -> OnwardLine | None:
    """The way on that the person chooses; None for none, also when the person leaves."""
    if not onward:
        return None
    for paragraph in (BLANK, Paragraph(words.ONWARD, strong=True), *present.listed([line.say for line in onward])):
        asker.show(paragraph)
    try:
        while text := tidy(asker.read(Line(words.ONWARD_PROMPT))):
            if text.isascii() and text.isdigit() and 1 <= int(text) <= len(onward):
                return onward[int(text) - 1]
            asker.show(Paragraph(words.onward_again(len(onward)), indent=2))
    except (KeyboardInterrupt, EOFError):
        pass  # the advice stands, and nothing more was wanted
    return None
