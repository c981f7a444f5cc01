"""The JSON Schemas accept what the program accepts, say what each value means, and refuse what it refuses."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from advisor import answer_file
from advisor.commands.schema import answers_schema, product_schema
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor

SCENARIOS = sorted((Path(__file__).parents[1] / "scenarios").glob("*.yaml"))


def as_text(path: Path) -> dict[str, Any]:
    """A file with every word left as it is written, as editors that follow YAML 1.2 read `no`."""
    data: dict[str, Any] = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    return {**data, "advisor": int(data["advisor"])}


@pytest.fixture(scope="module")
def answers(advisor: Advisor) -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(answers_schema(advisor.rule_base))


def test_every_scenario_fits(answers: jsonschema.Draft202012Validator) -> None:
    for path in SCENARIOS:
        assert [error.message for error in answers.iter_errors(as_text(path))] == [], path.name


@pytest.mark.parametrize("wrong", [{"goal": "fly"}, {"gaol": "plan_joint"}, {"exposure": ["weather", "moonlight"]}])
def test_what_the_program_refuses_does_not_fit(answers: jsonschema.Draft202012Validator, wrong: dict[str, Any]) -> None:
    assert list(answers.iter_errors({"advisor": 1, "answers": wrong}))


def test_every_choice_says_what_it_means(advisor: Advisor) -> None:
    for schema in (answers_schema(advisor.rule_base), product_schema(advisor.rule_base)):
        choices = list(choices_in(schema))
        assert len(choices) > 20
        assert all(one["title"].strip() for one in choices)


def choices_in(schema: Any) -> Any:
    if isinstance(schema, dict):
        yield from (one for one in schema.get("oneOf", ()) if "const" in one)
        schema = list(schema.values())
    for part in schema if isinstance(schema, list) else ():
        yield from choices_in(part)


def test_the_advice_of_a_scenario_fits_its_schema(advisor: Advisor) -> None:
    validator = jsonschema.Draft202012Validator(Advice.model_json_schema(by_alias=True, mode="serialization"))
    for path in SCENARIOS[::9]:
        advice = advisor.consult(answer_file.read(path).answers).advice()
        assert [error.message for error in validator.iter_errors(advice.model_dump(mode="json", by_alias=True))] == []
