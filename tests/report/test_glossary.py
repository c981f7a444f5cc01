"""The words explained are those that were used, no more and no fewer."""

from __future__ import annotations

import dataclasses

import pytest

from advisor.consultation.consult import Advisor
from advisor.report.blocks import Item, Line, texts_of
from advisor.report.glossary import terms_in
from advisor.report.outline import outline
from tests.report.samples import TERMS, rule_base, whole


def labels(text: str) -> list[str]:
    return [term.label for term, _ in terms_in([text], {term.term: term for term in TERMS})]


@pytest.mark.parametrize(("text", "found"), [
    ("Lay one ply.", ["ply"]),
    ("Lay two plys, then more batches.", ["batch", "ply"]),
    ("Lay the peel ply.", ["peel ply"]),
    ("Lay the peel ply on the last ply.", ["peel ply", "ply"]),
    ("One layer more.", ["ply"]),
    ("Dew Point!", ["dew point"]),
    ("the dew-point", ["dew point"]),
    ("Gelcoat or gel coats", ["gel coat"]),
    ("CSM", ["CSM"]),
    ("csm", []),
    ("tackle the plywood, reply, multiply", []),
    ("", [])])
def test_terms_are_met_as_whole_words(text: str, found: list[str]) -> None:
    assert labels(text) == found


def test_the_other_name_that_was_met_is_shown() -> None:
    assert [names for _, names in terms_in(["Lay a layer."], {TERMS[0].term: TERMS[0]})] == [("layer",)]


def test_a_name_that_two_terms_share_explains_both() -> None:
    twice = {f"t{n}": TERMS[0].model_copy(update={"term": f"t{n}", "label": f"kind {n}"}) for n in (1, 2)}
    assert [term.term for term, _ in terms_in(["a layer"], twice)] == ["t1", "t2"]


def test_the_report_explains_the_words_one_works_from_and_the_rest_with_the_details() -> None:
    words = next(section for section in outline(whole(), rule_base()) if section.id == "words")
    (line,) = words.blocks
    assert isinstance(line, Line)
    assert line.text == ("dew point: where water settles; peel ply: torn off later; ply (layer): one layer.")
    full = next(section for section in outline(whole(), rule_base(), details=True) if section.id == "words")
    assert {"dew point", "peel ply", "ply (layer)", "batch"} <= {
        block.head.label for block in full.blocks if isinstance(block, Item)}


def test_no_words_no_section() -> None:
    silent = whole(conditions=(), steps=(), batches=())
    assert "words" not in [section.id for section in outline(silent, rule_base())]


def test_every_term_of_the_real_glossary_can_be_met(advisor: Advisor) -> None:
    terms = advisor.rule_base.terms
    for term in terms.values():
        for name in (term.label, *term.also):
            assert term.term in [found.term for found, _ in terms_in([f"Use {name}, then go on."], terms)], name


def test_a_word_is_explained_in_one_sentence_and_in_full_with_the_details() -> None:
    small = dataclasses.replace(rule_base(), terms={
        "ply": TERMS[0].model_copy(update={"means": "One layer, 0.5 mm. Thin. Laid wet."})})
    for details, means in ((False, "ply (layer): one layer, 0.5 mm."), (True, "One layer, 0.5 mm. Thin. Laid wet.")):
        words = next(one for one in outline(whole(), small, details=details) if one.id == "words")
        assert list(texts_of([words]))[-1] == means


def test_terms_stand_by_the_alphabet() -> None:
    text = " ".join(texts_of(outline(whole(), rule_base())))
    found = labels(text)
    assert found == sorted(found, key=str.casefold)
