"""The review of a plan in the report: under the verdict, what fails first, the way of the rules in short."""

from __future__ import annotations

from advisor.consultation import advice as a
from advisor.report import phrases
from advisor.report.blocks import Group
from tests.report.samples import items, said, sections, whole


def point(about: str, verdict: str) -> a.ReviewLine:
    why = a.Why(rule="made.up", because=f"Invented reason of {about}.", source=("common-practice",))
    return a.ReviewLine(about=about, verdict=verdict, say=f"Said of {about}.", why=why)  # type: ignore[arg-type]


def plan() -> a.Advice:
    """An invented review, in the order in which a consultation gives it."""
    return whole(review=(point("Glue", "fails"), point("Slope", "change"), point("Dew", "not_told"),
                         point("Grit", "sound"), point("Gap", "sound")))


def test_every_point_stands_under_its_verdict_right_after_the_advice() -> None:
    found = sections(plan())
    assert list(found).index("review") == list(found).index("verdict") + 1
    groups = [block.title for block in found["review"].blocks if isinstance(block, Group)]
    assert groups == [*list(phrases.REVIEW_VERDICT.values())[:3], phrases.IN_ORDER]
    assert [item.head.label for item in items(found["review"])] == ["Glue", "Slope", "Dew", "Grit", "Gap"]


def test_what_is_right_is_sound_where_nothing_fails() -> None:
    found = sections(whole(review=(point("Slope", "change"), point("Grit", "sound"))))
    groups = [block.title for block in found["review"].blocks if isinstance(block, Group)]
    assert groups == [phrases.REVIEW_VERDICT["change"], phrases.REVIEW_VERDICT["sound"]]


def test_reasons_and_sources_come_with_the_details() -> None:
    assert "Invented reason of Glue." not in said(sections(plan())["review"])
    assert "Invented reason of Glue." in said(sections(plan(), details=True)["review"])


def test_the_way_of_the_rules_is_told_in_short_beside_a_review_and_whole_with_the_details() -> None:
    short, full = sections(plan()), sections(plan(), details=True)
    assert "steps" not in short and "cautions" in short and "checks" in short
    assert phrases.REVIEW_IN_SHORT in said(short["review"])
    assert "steps" in full and phrases.REVIEW_IN_SHORT not in said(full["review"])


def test_without_a_plan_nothing_changes() -> None:
    assert "review" not in sections(whole())
    assert "steps" in sections(whole())
