"""A plan that a person brought: one verdict for each point, worst first, and how their choice stands."""

from __future__ import annotations

import pytest

from advisor.consultation.advice import Candidate, Choice, EvidenceLine, ReviewLine, Standing, Why
from advisor.consultation.facts import Fact, Facts
from advisor.consultation.planned import judge_plan
from advisor.consultation.review import counted, one_verdict_each
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Decision, IfNone, PlannedChoice

PLAN = PlannedChoice(fact="planned_method", standing="planned_method_standing", against="planned_method_against")
DECISION = Decision(decision="method", label="Method", of="method", stage="choose", plan=PLAN,
                    if_none=IfNone(refer="somebody"))


def line(about: str, verdict: str, say: str) -> ReviewLine:
    why = Why(rule=f"r.{say}", because=f"because {say}", source=("common-practice",))
    return ReviewLine(about=about, verdict=verdict, say=say, why=why)  # type: ignore[arg-type]


def test_what_several_rules_say_of_a_point_stands_under_its_worst_verdict() -> None:
    found = one_verdict_each([line("Glue", "sound", "Fine."), line("Bed", "sound", "Good."),
                              line("Glue", "change", "Slower."), line("Glue", "fails", "Peels.")])
    assert [(one.about, one.verdict, one.say) for one in found] == [
        ("Glue", "fails", "Peels. Slower."), ("Bed", "sound", "Good.")]
    assert found[0].why.rule == "r.Peels."
    assert found[0].why.because == "because Peels. because Slower."


def test_what_fails_comes_first_and_what_is_sound_last() -> None:
    mixed = [line(verdict, verdict, "x") for verdict in ("sound", "not_told", "fails", "change")]
    assert [one.verdict for one in one_verdict_each(mixed)] == ["fails", "change", "not_told", "sound"]


@pytest.mark.parametrize(("verdicts", "said"), [
    (["sound"], "The one point of your plan is sound."),
    (["fails", "fails", "sound"],
     "This plan will fail: 0; 1. Of the 3 points of your plan 2 fail and 1 is right in itself."),
    (["fails", "fails", "fails", "fails"],
     "This plan will fail: 0; 1 and 2 more points. Of the 4 points of your plan 4 fail."),
    (["fails", "change", "not_told", "not_told"],
     "This plan will fail: 0. Of the 4 points of your plan 1 fails, 1 should change and 2 are not told."),
])
def test_points_are_counted_in_a_sentence(verdicts: list[str], said: str) -> None:
    assert counted([line(str(place), verdict, "x") for place, verdict in enumerate(verdicts)]) == said


def evidence(strength: str, because: str, weight: str | None = None) -> EvidenceLine:
    return EvidenceLine(rule="r", because=because, source=(), strength=strength, weight=weight)  # type: ignore[arg-type]


def standing_of(candidate: str, *lines: EvidenceLine, standing: Standing, close_to: str | None = None
                ) -> dict[str, object]:
    facts = Facts(load_rule_base(examples=False))
    facts.add(Fact("planned_method", candidate, "rule"))
    best = (evidence("favour", "It bridges.", "strong"),)
    other = Candidate(id="laminate", label="L", standing="chosen", evidence=best)
    mine = Candidate(id="bond", label="B", standing=standing, evidence=lines)
    choice = Choice(decision="method", label="Method", chosen="laminate", close_to=close_to, candidates=(other, mine))
    return {fact.name: fact.value for fact in judge_plan(DECISION, choice, facts)}


def test_what_rules_a_plan_out_is_told_and_nothing_weaker() -> None:
    found = standing_of("bond", evidence("oppose", "Weak.", "strong"), evidence("rule_out", "Too wide."),
                        standing="ruled_out")
    assert found == {"planned_method_standing": "ruled_out", "planned_method_against": "Too wide."}


def test_slight_reasons_are_left_out_and_what_the_first_has_for_it_is_told_instead() -> None:
    found = standing_of("bond", evidence("oppose", "A little slow.", "slight"), standing="possible")
    assert found == {"planned_method_standing": "possible", "planned_method_against": "It bridges."}


def test_the_runner_up_that_differs_slightly_is_close() -> None:
    assert standing_of("bond", standing="possible", close_to="bond")["planned_method_standing"] == "close"


def test_without_a_plan_nothing_is_said() -> None:
    assert standing_of("no_such_method", standing="possible") == {}
