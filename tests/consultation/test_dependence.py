"""What makes a range wide, and which numbers of a product a job reads."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.consultation.dependence import spread_from

SCENARIOS = Path(__file__).parents[2] / "scenarios"
WIDE = 0.1


def advice_of(advisor: Advisor, name: str) -> Advice:
    return advisor.consult(answer_file.read(SCENARIOS / f"{name}.yaml").answers).advice()


@pytest.mark.parametrize("path", sorted(SCENARIOS.glob("*.yaml"))[::8], ids=lambda path: path.stem)
def test_every_amount_is_a_range_whose_high_end_is_bought(path: Path, advisor: Advisor) -> None:
    for line in advice_of(advisor, path.stem).quantities:
        if line.amount is not None:
            assert line.low is not None and line.high is not None
            assert line.low <= line.amount <= line.high
            if line.spread_from:
                assert line.high - line.low > WIDE * line.amount


def test_holding_what_makes_the_spread_narrows_it(advisor: Advisor) -> None:
    case = advisor.consult(answer_file.read(SCENARIOS / "small-dry-bubble.yaml").answers)
    (line,) = [line for line in case.advice().quantities if line.spread_from]
    label = "Height of a bubble inside"
    assert line.spread_from == label[:1].lower() + label[1:]
    name = next(name for name, limit in advisor.rule_base.limits.items() if limit.label == label)
    number = advisor.rule_base.numbers[name]
    held = replace(advisor.rule_base, numbers={**advisor.rule_base.numbers,
                                               name: replace(number, low=number.value, high=number.value)})
    other = Advisor(held).consult(answer_file.read(SCENARIOS / "small-dry-bubble.yaml").answers).advice()
    (narrow,) = [one for one in other.quantities if one.item == line.item]
    assert line.low and line.high and narrow.low and narrow.high
    assert narrow.high - narrow.low < (line.high - line.low) / 2


def test_a_fact_without_a_range_has_no_source_of_spread(advisor: Advisor) -> None:
    case = advisor.consult(answer_file.read(SCENARIOS / "lap-that-fits.yaml").answers)
    result = case.concluded()
    assert spread_from("joint_length", result.facts, advisor.rule_base, case.texts_of(result)) is None
    assert spread_from("no_such_fact", result.facts, advisor.rule_base, case.texts_of(result)) is None


def test_numbers_that_the_job_does_not_read_are_not_asked_for(advisor: Advisor) -> None:
    """Nothing peels in a lap that slides; the joint is not sanded, so the time to sand is not asked either."""
    texts = [line.text for line in advice_of(advisor, "lap-that-fits").confirm]
    assert any("thickest bond line" in text for text in texts) and not any("peel" in text for text in texts)


def test_a_margin_that_may_fail_puts_its_number_first(advisor: Advisor) -> None:
    generic = [line.text for line in advice_of(advisor, "hatch-frame-close-call").confirm if line.used]
    assert generic[0].endswith("softens at about")


def test_what_a_doubtful_margin_rests_on_is_asked_for_first(advisor: Advisor) -> None:
    """The patch may arch: that rests on shrinkage and stiffness of the resin, which elsewhere nobody need read."""
    generic = [line.text for line in advice_of(advisor, "cracked-motorhome-end-cap").confirm if line.used]
    assert "shrinkage" in generic[0] and "modulus" in generic[1]
    assert not any("modulus" in line.text for line in advice_of(advisor, "first-timer-glue-or-laminate").confirm)
