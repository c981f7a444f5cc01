"""Entries that run on in one paragraph."""

from __future__ import annotations

import pytest

from advisor.consultation.consult import Advisor
from advisor.report.running import first_sentence, listed, row_in_words, sentence


@pytest.mark.parametrize(("text", "first"), [
    ("Wear gloves. Long ones.", "Wear gloves."), ("Is it dry? Then go on.", "Is it dry?"),
    ("At 0.5 mm. 3 layers.", "At 0.5 mm. 3 layers."), ("One only", "One only"), ("", "")])
def test_the_first_sentence_ends_before_the_next_capital(text: str, first: str) -> None:
    assert first_sentence(text) == first


@pytest.mark.parametrize(("text", "ended"), [("Dry", "Dry."), ("Dry.", "Dry."), ("Dry?", "Dry?"), ("", "")])
def test_a_sentence_has_one_end(text: str, ended: str) -> None:
    assert sentence(text) == ended


def test_a_listing_is_one_sentence() -> None:
    assert listed(["a doctor.", "local rules"]) == "a doctor; local rules."
    assert listed([]) == ""


@pytest.mark.parametrize(("row", "words"), [
    (("1", "Mat", "3 mm"), "Ply 1: glass Mat, CSM 3 mm"),
    (("1 to 4", "Mat", "-"), "Ply 1 to 4, each: glass Mat, CSM -"),
    (("Mat", "x", "y"), "Mat: glass x, CSM y")])
def test_a_row_is_said_in_words(row: tuple[str, ...], words: str) -> None:
    assert row_in_words(("Ply", "Glass", "CSM"), row) == words


def test_the_first_sentence_of_every_real_caution_says_what_to_do(advisor: Advisor) -> None:
    for caution in advisor.rule_base.cautions.values():
        first = first_sentence(caution.text)
        assert first.endswith((".", "!")) and len(first.split()) > 2, caution.text
