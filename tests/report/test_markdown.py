"""The report as Markdown."""

from __future__ import annotations

import re

import pytest

from advisor.report.markdown import escape, render
from tests.report.samples import ended, rule_base, step, whole


@pytest.mark.parametrize(("text", "escaped"), [
    ("a | b", r"a \| b"), ("[bold]x[/bold]", r"\[bold\]x\[/bold\]"), ("*a* _b_ `c`", r"\*a\* \_b\_ \`c\`"),
    ("<script>", r"\<script\>"), ("# not a heading", r"\# not a heading"), ("- not a list", r"\- not a list"),
    ("1. not a list", r"1\. not a list"), ("0.44 mm", "0.44 mm"), ("a\n\n# b", "a # b"), ("\x1b[0m", r"\\x1b\[0m"),
    ("a \\| b", r"a \\\| b"), ("&lt;", r"\&lt;")])
def test_nothing_of_a_rule_is_taken_for_markdown(text: str, escaped: str) -> None:
    assert escape(text) == escaped


@pytest.mark.parametrize(("details", "count"), [(False, 2), (True, 4)])
def test_tables_have_the_same_cells_in_every_row(details: bool, count: int) -> None:
    text = render(whole(), rule_base(), details=details)
    tables = [part.splitlines() for part in text.split("\n\n") if part.startswith("|")]
    assert len(tables) == count
    for rows in tables:
        assert len({len(re.findall(r"(?<!\\)\|", row)) for row in rows}) == 1
        assert re.fullmatch(r"\|( --- \|)+", rows[1])


def test_headings_are_one_title_and_one_for_each_section() -> None:
    text = render(whole(), rule_base())
    assert re.findall(r"^# .*", text, re.M) == ["# Cowl of an invented tricycle"]
    assert re.findall(r"^## .*", text, re.M)[:3] == ["## STOP", "## The advice", "## Today"]
    assert "### Phase apply" in text


def test_steps_keep_their_numbers_and_what_belongs_below_them() -> None:
    text = render(whole(), rule_base(), details=True)
    assert ("2. Lay a layer. **Right when:** It is clear. **If not:** Roll again.\n"
            "   - **HOLD POINT:** Nothing before the face is dry.\n") in text
    assert "\n3. Lay the peel ply." in text


def test_a_hostile_text_cannot_break_out_of_its_line() -> None:
    text = render(whole(steps=(step(1, "ready", "a\n\n# Owned\n| x |\n<b>"),)), rule_base())
    assert r"1. a # Owned \| x \| \<b\>" in text
    assert "\n# Owned" not in text


def test_a_referral_says_whom_to_turn_to() -> None:
    text = render(ended("refer"), rule_base())
    assert "## Whom to turn to\n\n- **a licensed engineer**" in text


def test_the_same_advice_gives_the_same_text() -> None:
    assert render(whole(), rule_base(), details=True) == render(whole().model_copy(deep=True), rule_base(),
                                                                details=True)
