"""Reports of real consultations: complete, within their width, well formed."""

from __future__ import annotations

import re

import pytest
from rich.cells import cell_len

from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import AdvisorError
from advisor.report.blocks import Table
from advisor.report.markdown import render
from advisor.report.outline import outline
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


def advice_for(advisor: Advisor, name: str) -> Advice:
    answers = {**COMMON, **CASES[name]} if CASES[name] else {"goal": "plan_joint"}
    try:
        return advisor.consult(answers, title=name.capitalize()).advice()
    except AdvisorError as error:
        pytest.fail(f"the case no longer fits the rules: {error}")


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("details", [False, True])
def test_a_real_report_is_whole(advisor: Advisor, name: str, details: bool) -> None:
    advice = advice_for(advisor, name)
    text = plain_text(advice, advisor.rule_base, 40, details=details)
    assert max(map(cell_len, text.splitlines())) <= 40
    flat = "".join(text.split()).replace(">>HOLD", "HOLD")
    wanted = [*(line.text for line in advice.steps), *(line.text for line in advice.cautions),
              *(line.item for line in advice.quantities), *(line.say for line in advice.conditions),
              *(line.text for line in advice.confirm), *(line.name for line in advice.checks),
              *(line.say for line in advice.specification if line.say)]
    assert [text for text in wanted if "".join(text.split()) not in flat] == []
    assert re.findall(r"\{[a-z_./]+\}|(?:: |- )None$", text, re.MULTILINE) == []


@pytest.mark.parametrize("name", CASES)
def test_real_tables_and_markdown_are_well_formed(advisor: Advisor, name: str) -> None:
    advice = advice_for(advisor, name)
    for section in outline(advice, advisor.rule_base):
        for block in section.blocks:
            if isinstance(block, Table):
                assert {len(row) for row in block.rows} == {len(block.headings)}
    assert render(advice, advisor.rule_base).startswith(f"# {name.capitalize()}\n\n## ")
