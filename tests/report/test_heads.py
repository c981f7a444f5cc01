"""What stands at the head of a report says one thing: no GO below a STOP, no failing margin of a way not taken."""

from __future__ import annotations

import pytest

from advisor.consultation import advice as a
from advisor.report import phrases
from advisor.report.amounts import check_cells
from tests.report.samples import caution, check, said, sections, whole, why


def today(verdict: str, severity: str) -> str:
    condition = a.ConditionLine(say="Dry and mild.", verdict=verdict, why=why())  # type: ignore[arg-type]
    return said(sections(whole(conditions=(condition,), cautions=(caution("c", severity, "Look."),)))["today"])[0]


@pytest.mark.parametrize("verdict", ["go", "wait", "no_go"])
def test_no_go_is_given_below_a_stop(verdict: str) -> None:
    assert today(verdict, "danger") == phrases.TODAY_SAYS[verdict]
    stopped = today(verdict, "stop")
    assert stopped == (phrases.GO_BELOW_A_STOP if verdict == "go" else phrases.TODAY_SAYS[verdict])
    assert "GO." not in phrases.GO_BELOW_A_STOP


@pytest.mark.parametrize("verdict", ["go", "wait"])
def test_a_go_names_the_margins_in_doubt(verdict: str) -> None:
    condition = a.ConditionLine(say="Dry and mild.", verdict=verdict, why=why())  # type: ignore[arg-type]
    doubtful = check(name="Pull", verdict="doubtful")
    head = said(sections(whole(conditions=(condition,), checks=(doubtful,)))["today"])
    assert any("Pull" in line for line in head) == (verdict == "go")
    sound = said(sections(whole(conditions=(condition,), checks=(check(name="Pull", verdict="ample"),)))["today"])
    assert not any("Pull" in line for line in sound)


def test_a_margin_that_is_not_relied_on_does_not_stand_among_those_that_fail() -> None:
    beside = check(name="Glue alone", verdict="fails", margin=-2.0, not_taken=True)
    own = check(name="Bolts", verdict="fails", margin=-2.0)
    head = " ".join(said(sections(whole(checks=(beside, own)))["verdict"]))
    assert "Bolts" in head and "Glue alone" not in head
    assert check_cells(beside, "metric")[-1] == phrases.NOT_TAKEN


def test_a_share_that_may_be_anything_is_told_in_words() -> None:
    wide = check(value=0.6, low=0.24, high=1.0, limit=0.8, limit_low=0.8, limit_high=0.8, unit="fraction",
                 margin=-0.2, straddles=True, verdict="fails")
    cells = check_cells(wide, "metric")
    assert cells[1] == "between a quarter and all of it" and cells[3] == phrases.NOT_SURE
    narrow = wide.model_copy(update={"low": 0.55, "high": 0.9})
    assert check_cells(narrow, "metric")[1] == "60 %"
