"""What it may be: the likeliest candidates, each with what speaks for and against it and the notes kept of it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from advisor.consultation.advice import Advice, Candidate, Choice
from advisor.report import phrases
from advisor.report.blocks import Block, Group, Item, Line
from advisor.report.reasons import SPEAKS_AGAINST, SPEAKS_FOR, keeps_notes, reasons_of
from advisor.report.running import sentence

_MOST_CANDIDATES = 3
_MOST_REASONS = 3


def ranked(advice: Advice, details: bool) -> Iterator[Block]:
    """The three likeliest candidates of every choice that keeps notes, in their order.

    A reason that was given for an earlier one is repeated with the details only.
    """
    kept = [choice for choice in advice.choices if keeps_notes(choice)]
    for choice in kept:
        if len(kept) > 1:
            yield Group(choice.label)
        heard: set[str] = set()
        left = (one for one in choice.candidates if one.standing in ("chosen", "possible"))
        for number, candidate in enumerate(islice(left, _MOST_CANDIDATES), 1):
            yield Item(Line(sentence(candidate.label), _likelihood(candidate, choice), "strong"),
                       tuple(_below(candidate, set() if details else heard)), number)
            heard.update(reasons_of(candidate, SPEAKS_FOR))


def _likelihood(candidate: Candidate, choice: Choice) -> str:
    if candidate.id == choice.chosen:
        return phrases.LIKELIEST
    return phrases.AS_LIKELY if candidate.id == choice.close_to else phrases.LESS_LIKELY


def _below(candidate: Candidate, heard: set[str]) -> Iterator[Line]:
    fresh = (reason for reason in reasons_of(candidate, SPEAKS_FOR) if reason not in heard)
    yield from (Line(reason, phrases.FOR) for reason in islice(fresh, _MOST_REASONS))
    against = islice(reasons_of(candidate, SPEAKS_AGAINST), _MOST_REASONS)
    yield from (Line(reason, phrases.AGAINST) for reason in against)
    yield from (Line(text, heading) for heading, text in candidate.notes.items())
