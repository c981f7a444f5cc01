"""The rules for readers: nothing missing, every link leads somewhere, words find what they should."""

from __future__ import annotations

import re

import pytest

from advisor import cli
from advisor.consultation.consult import Advisor
from advisor.handbook.book import handbook
from advisor.handbook.lookup import Found, everything, nearest, search
from advisor.handbook.told import Told
from advisor.knowledge.check.usage import READ_BY_PROGRAM


@pytest.fixture(scope="module")
def entries(advisor: Advisor) -> list[Found]:
    return everything(advisor.rule_base)


@pytest.fixture(scope="module")
def book(advisor: Advisor) -> str:
    return handbook(advisor.rule_base)


def test_every_entry_stands_in_the_handbook_once(book: str, entries: list[Found]) -> None:
    anchors = re.findall(r'<a id="([^"]+)"></a>', book)
    assert len(anchors) == len(set(anchors))
    assert not {f"{entry.kind}-{entry.id}" for entry in entries} - set(anchors)


def test_every_link_leads_somewhere(book: str) -> None:
    anchors = set(re.findall(r'<a id="([^"]+)"></a>', book))
    links = set(re.findall(r"\]\(#([^)]+)\)", book))
    assert len(links) > 500
    assert not links - anchors


def test_reasons_and_sources_of_every_rule_are_told(book: str, advisor: Advisor) -> None:
    parts = dict(re.findall(r'<a id="rule-([^"]+)"></a>(.*?)(?=<a id=|\Z)', book, re.DOTALL))
    for rule in advisor.rule_base.rules.values():
        told = Told(advisor.rule_base, rule.for_each)
        assert told.text(rule.because) in parts[rule.rule]
        for source in rule.sources:
            assert f"(#source-{source})" in parts[rule.rule]


def test_nothing_reads_like_code(book: str) -> None:
    """No placeholder, no name of a limit, no word with an underscore outside code marks and links."""
    said = re.sub(r"`[^`]*`|<a id=[^>]*>|\]\(#[^)]*\)|^- (Used|Read) by .*$|^- By: .*$", "", book, flags=re.MULTILINE)
    assert not re.findall(r"\{[^}]*\}|limit/\w+", said)
    assert re.findall(r"\b[a-z]+_[a-z_]+\b", said) == []


@pytest.mark.parametrize(("words", "kind", "id_"), [
    (["vinyl_ester_paste"], "adhesive", "vinyl_ester_paste"),
    (["hull", "blisters"], "source", "hull-blister-report-1987"),
    (["HULL", "blister"], "source", "hull-blister-report-1987"),
    (["release", "agents"], "word", "release_agent"),
    (["fit.gap-beyond-any-bed"], "rule", "fit.gap-beyond-any-bed")])
def test_words_find_entries(entries: list[Found], words: list[str], kind: str, id_: str) -> None:
    assert (kind, id_) in [(entry.kind, entry.id) for entry in search(entries, words)]


def test_uses_are_told(entries: list[Found], advisor: Advisor) -> None:
    """Each use named really names the entry."""
    by_id = {(entry.kind, entry.id): entry for entry in entries}
    base = advisor.rule_base
    assert "fit.gap-beyond-any-bed" in by_id["limit", "gap_wide_most"].uses
    for caution in base.cautions:
        for rule in by_id["caution", caution].uses:
            assert caution in base.rules[rule].model_dump_json()
    assert not [limit for limit in base.limits if not by_id["limit", limit].uses and limit not in READ_BY_PROGRAM
                and not any(f"limit/{limit}" in text for text in map(str, (*base.invariants.values(),
                                                                            *base.questions.values(),
                                                                            *base.cautions.values())))]


def test_an_id_shows_its_entry_and_where_else_it_is_mentioned(entries: list[Found]) -> None:
    (term,) = search(entries, ["dew_point"])
    assert term.id == "dew_point" and term.also
    holding = {f"{entry.kind} {entry.id}" for entry in search(entries, ["dew", "point"])}
    assert set(term.also) == holding - {"word dew_point"}
    assert any(one.startswith("rule ") for one in term.also)


@pytest.mark.parametrize(("words", "near_it"), [
    (["styrine"], "styrene"), (["acetone", "gluw"], "glue"), (["cartrige"], "cartridge")])
def test_a_slip_gets_the_nearest_words(entries: list[Found], words: list[str], near_it: str) -> None:
    assert search(entries, words) == []
    found = nearest(entries, words)
    assert list(found) == [words[-1]] and near_it in found[words[-1]]


def test_nonsense_gets_the_nearest_words_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["rule", "zzqx"]) == 1
    assert "did you mean `" in capsys.readouterr().err
    assert cli.main(["source", "nioshh"]) == 1
    assert "niosh" in capsys.readouterr().err
    assert cli.main(["rule", "dew_point"]) == 0
    assert "also mentioned in: " in capsys.readouterr().out
