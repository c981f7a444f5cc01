"""The report on a terminal and as plain text."""

from __future__ import annotations

import io
import re

import pytest
from rich.cells import cell_len
from rich.console import Console

from advisor.consultation import advice as a
from advisor.report.blocks import texts_of
from advisor.report.outline import outline
from advisor.report.running import first_sentence
from advisor.report.terminal import plain_text, print_advice
from tests.report.samples import caution, ended, rule_base, step, whole

HOSTILE = "[bold]red[/bold] [/x] \x1b[31mred\x1b[0m \u202eback :smile: **star**"


def squeezed(text: str) -> str:
    return re.sub(r"[\s>]+", "", text)


def printed(advice: a.Advice, **console: object) -> str:
    stream = io.StringIO()
    print_advice(advice, rule_base(), Console(file=stream, **console))  # type: ignore[arg-type]
    return stream.getvalue()


@pytest.mark.parametrize("width", [20, 40, 57, 80, 100])
@pytest.mark.parametrize("details", [False, True])
def test_every_text_is_there_and_no_line_is_too_wide(width: int, details: bool) -> None:
    text = plain_text(whole(), rule_base(), width, details=details)
    assert max(map(cell_len, text.splitlines())) <= width
    flat = squeezed(text)
    for said in texts_of(outline(whole(), rule_base(), details=details)):
        assert squeezed(said) in flat or all(squeezed(word) in flat for word in said.split()), said


def test_steps_cautions_and_quantities_are_there_in_full() -> None:
    flat = squeezed(plain_text(whole(), rule_base(), 40))
    advice = whole()
    texts = [line.text for line in advice.steps] + [first_sentence(line.text) for line in advice.cautions]
    texts += [line.text for line in advice.cautions if line.severity in ("stop", "danger")]
    texts += [line.item for line in advice.quantities]
    texts += [line.hold_point for line in advice.steps if line.hold_point] + [
        line.because for line in advice.cautions if line.severity in ("stop", "danger")]
    assert all(squeezed(text) in flat for text in texts)


def test_the_verdict_stands_before_everything_but_the_stops() -> None:
    lines = plain_text(whole(), rule_base()).splitlines()
    places = [next(n for n, line in enumerate(lines) if text in line)
              for text in ("Drain the tank.", "Glue it.", "Dew point near.", "A strong reason.")]
    assert places == sorted(places)


def test_nothing_of_a_rule_is_taken_for_markup() -> None:
    advice = whole(title=HOSTILE, verdict=HOSTILE, steps=(step(1, "ready", HOSTILE, hold_point=HOSTILE),))
    for text in (plain_text(advice, rule_base(), 100), printed(advice, width=100, force_terminal=True)):
        assert text.count("[bold]red[/bold] [/x] \\x1b[31mred\\x1b[0m \\u202eback :smile: **star**") == 4
        assert "\x1b[31mred" not in text and "\u202e" not in text


def test_nothing_but_text_goes_into_a_pipe() -> None:
    text = printed(whole(title=HOSTILE), width=80)
    assert "\x1b" not in text
    assert text == plain_text(whole(title=HOSTILE), rule_base(), 80)


def test_without_colour_no_colour_is_sent(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    text = printed(whole(), width=80, force_terminal=True)
    assert not re.search(r"\x1b\[[0-9;]*3[0-7]", text)
    assert re.sub(r"\x1b\[[0-9;]*m", "", text) == plain_text(whole(), rule_base(), 80)


def test_the_only_colour_is_the_accent() -> None:
    text = printed(whole(), width=80, force_terminal=True, color_system="standard")
    assert set(re.findall(r"\x1b\[([0-9;]*)m", text)) == {"0", "1", "1;31"}


def test_a_long_word_is_broken_and_not_cut() -> None:
    word = "x" * 130
    text = plain_text(whole(verdict=word, cautions=(caution("a", "danger", word),)), rule_base(), 40)
    assert text.count("x") == plain_text(whole(verdict="", cautions=(caution("a", "danger", ""),)), rule_base(),
                                         40).count("x") + 260


def test_wide_letters_count_twice() -> None:
    text = plain_text(whole(title="船" * 50), rule_base(), 40)
    assert max(map(cell_len, text.splitlines())) <= 40
    assert text.count("船") == 50


def test_a_table_that_does_not_fit_becomes_lines() -> None:
    wide, narrow = (plain_text(whole(), rule_base(), width) for width in (80, 20))
    assert re.search(r"^Batch +Mix +Start after +In place within +Stop at$", wide, re.M)
    assert "- Batch: 1 to 2" in narrow and "Mix: 300 g" in narrow


def test_hold_points_and_signal_words_stand_out_without_colour() -> None:
    text = plain_text(whole(), rule_base())
    assert re.search(r"^>>  HOLD POINT: Nothing before the face is dry\.$", text, re.M)
    assert re.search(r"^- DANGER: No flame\. Reason of fire\.$", text, re.M)
    assert re.search(r"^=+\nSTOP\nDrain the tank\.\n", text, re.M)


@pytest.mark.parametrize("advice", [whole(), ended("stop"), ended("refer"), ended("incomplete")])
def test_the_same_advice_prints_the_same(advice: a.Advice) -> None:
    assert plain_text(advice, rule_base()) == plain_text(advice.model_copy(deep=True), rule_base())


def test_no_number_has_an_exponent() -> None:
    batch = a.Batch(number=1, mass_kg=0.0000004, start_min=0, place_within_min=0.00001, stop_at_min=123456789.0)
    text = plain_text(whole(batches=(batch,)), rule_base())
    assert not re.search(r"\d[eE][-+]?\d", text)
