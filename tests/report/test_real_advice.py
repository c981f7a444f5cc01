"""Reports of real consultations: complete, within their width, well formed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from rich.cells import cell_len

from advisor import answer_file
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import AdvisorError
from advisor.knowledge.rulebase import RuleBase
from advisor.report.blocks import Table, texts_of
from advisor.report.markdown import render
from advisor.report.outline import hangs_in_the_air, outline
from advisor.report.running import first_sentence
from advisor.report.terminal import plain_text

COMMON = {"duty": "none_of_these", "site": "none_of_these", "health": "none_of_these", "exposure": "weather",
          "air_temperature": "20 C", "relative_humidity": "55 %", "load_class": "panel"}
CASES: dict[str, dict[str, str]] = {
    "a lap on a vehicle": {"goal": "plan_joint", "item": "vehicle_body", "face_a": "polyester_hand_laid",
                           "face_b": "aluminium", "joint_form": "lap", "joint_length": "1.2 m",
                           "overlap_width": "40 mm", "gap_max": "2 mm"},
    "a butt in inches": {"goal": "plan_joint", "item": "vehicle_body", "face_a": "polyester_hand_laid",
                         "face_b": "polyester_hand_laid", "joint_form": "butt", "joint_length": "5 ft",
                         "gap_max": "1/2 in", "panel_thickness": "1/8 in", "air_temperature": "62 F"},
    "a hole in a boat": {"goal": "plan_repair", "item": "boat_above_water", "face_a": "polyester_hand_laid",
                         "damage_kind": "hole", "damage_length": "300 mm", "damage_width": "200 mm",
                         "panel_thickness": "6 mm", "access": "both_sides", "moisture": "dry"},
    "a part of an aircraft": {"goal": "plan_repair", "item": "other", "duty": "aircraft", "damage_kind": "hole",
                              "damage_length": "100 mm"},
    "hardly an answer": {},
}
SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))


def advice_for(advisor: Advisor, name: str) -> Advice:
    answers = {**COMMON, **CASES[name]} if CASES[name] else {"goal": "plan_joint"}
    try:
        return advisor.consult(answers, title=name.capitalize()).advice()
    except AdvisorError as error:
        pytest.fail(f"the case no longer fits the rules: {error}")


def folded(text: str) -> str:
    return "".join(text.split())


def owed(advice: Advice, details: bool) -> list[str]:
    """What no report may leave out, however short: all of the work, and what may hurt with its reason.

    Of care, notes and disputes the default report owes the first sentence, the details every word, and how to know
    that a step is right. Beside the
    review of somebody's own plan the work itself is owed with the details only, and where too much is unknown to work
    from, so are care, margins and what weighed most.
    """
    find_out_first = hangs_in_the_air(advice) and not details
    told_in_short = (bool(advice.review) or find_out_first) and not details
    steps = [text for step in advice.steps
             for text in (step.text, step.hold_point, step.duration,
                          *((step.right_when, step.if_not) if details else ()))]
    grave = [line for line in advice.cautions if details or line.severity in ("stop", "danger")]
    cautions = [text for line in grave for text in (line.text, line.because)]
    cautions += [first_sentence(line.text) for line in advice.cautions if not find_out_first]
    cautions += [line.defer_to or "" for line in advice.cautions if details]
    amounts = [text for line in advice.quantities for text in (line.item, line.note)]
    specification = [line.say for line in advice.specification]
    rest = [advice.verdict if advice.status != "incomplete" else "", *(line.say for line in advice.review),
            *(line.say for line in advice.conditions), *advice.turn_to,
            *(text for line in advice.assumed for text in (line.value, line.because)),
            *(check.name for check in advice.checks if check.verdict == "fails" and not find_out_first),
            *(pivot.given or pivot.ask for pivot in advice.pivotal if not (pivot.given and find_out_first))]
    work = [] if told_in_short else [*steps, *amounts, *specification]
    return list(filter(None, [*work, *cautions, *rest]))


def numbers_to_read(advice: Advice) -> list[str]:
    """The parts of the lines for the maker's sheet, without the full stops that a listing takes away."""
    parts = [part for line in advice.confirm for part in (*line.text.split(": "), line.used or "")]
    return [part.rstrip(".") for part in parts]


def check_whole(advice: Advice, rule_base: RuleBase, width: int, details: bool) -> None:
    text = plain_text(advice, rule_base, width, details=details)
    assert max(map(cell_len, text.splitlines())) <= width
    flat = folded(text)
    assert [wanted for wanted in owed(advice, details) if folded(wanted) not in flat] == []
    laid_out = "\n".join(texts_of(outline(advice, rule_base, details=details)))
    if hangs_in_the_air(advice) and not details:
        return
    assert [check.name for check in advice.checks if check.name not in laid_out] == []
    assert re.findall(r"\{[a-z_./]+\}|(?:: |- )None$", text, re.MULTILINE) == []
    if width > 60 or not details:  # in a narrow table a cell's words stand on several lines, parted by other cells
        assert [number for number in numbers_to_read(advice) if folded(number) not in flat] == []


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("width", [40, 80])
@pytest.mark.parametrize("details", [False, True])
def test_a_real_report_is_whole(advisor: Advisor, name: str, width: int, details: bool) -> None:
    check_whole(advice_for(advisor, name), advisor.rule_base, width, details)


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_the_report_of_every_scenario_is_whole(advisor: Advisor, path: Path) -> None:
    file = answer_file.read(path)
    advice = advisor.consult(file.answers, file.title or path.stem, None, file.places).advice()
    for width, details in ((40, False), (80, False), (80, True)):
        check_whole(advice, advisor.rule_base, width, details)


def test_there_are_scenarios() -> None:
    assert SCENARIOS


@pytest.mark.parametrize("name", CASES)
def test_without_the_details_a_report_is_less_than_half_as_long(advisor: Advisor, name: str) -> None:
    advice = advice_for(advisor, name)
    short, full = (plain_text(advice, advisor.rule_base, details=details).count("\n") for details in (False, True))
    assert short < full / 2


@pytest.mark.parametrize("name", CASES)
def test_real_tables_and_markdown_are_well_formed(advisor: Advisor, name: str) -> None:
    advice = advice_for(advisor, name)
    for section in outline(advice, advisor.rule_base):
        for block in section.blocks:
            if isinstance(block, Table):
                assert {len(row) for row in block.rows} == {len(block.headings)}
    assert render(advice, advisor.rule_base).startswith(f"# {name.capitalize()}\n\n## ")
