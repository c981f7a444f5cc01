"""Every line of every advice explains itself down to answers, properties and decisions; the chain suffices."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import answer_file, cli
from advisor.consultation.consult import Advisor
from advisor.consultation.explain import explain, lines_with

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))[::6]


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_every_line_is_explained_down_to_what_was_said(path: Path, advisor: Advisor) -> None:
    case = advisor.consult(answer_file.read(path).answers)
    for rule in {said.rule for said in lines_with(case.advice(), "")} & set(advisor.rule_base.rules):
        reasons = explain(case, rule)
        assert reasons and reasons[0].depth == 0 and reasons[0].source, rule
        assert all(reason.text.strip() and "{" not in reason.text for reason in reasons), rule


def test_a_chain_names_the_answers_it_rests_on(advisor: Advisor) -> None:
    file = answer_file.read(next(path for path in SCENARIOS[0].parent.glob("bracket-long-enough.yaml")))
    texts = [reason.text for reason in explain(advisor.consult(file.answers), "strength.shear-within")]
    assert any("1000 N" in text for text in texts) and any("50 mm" in text for text in texts)
    assert not any("relative humidity" in text for text in texts)


def test_the_command_explains_lines_by_their_words(capsys: pytest.CaptureFixture[str]) -> None:
    file = str(SCENARIOS[0].parent / "lap-that-fits.yaml")
    assert cli.main(["advise", file, "--explain", "bond line"]) == 0
    out = capsys.readouterr().out
    assert "You were asked:" in out and "bond-line." in out
    assert cli.main(["advise", file, "--explain", "no such words here"]) == 1
    assert "no line of the advice" in capsys.readouterr().err
