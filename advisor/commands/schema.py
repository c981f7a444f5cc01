"""`advisor schema`: JSON Schemas, so that editors can complete and check files."""

from __future__ import annotations

import argparse
import json
from typing import Any

from advisor.consultation.advice import Advice
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import UNKNOWN, Question
from advisor.knowledge.rulebase import RuleBase


def run(options: argparse.Namespace) -> int:
    """Print the schema asked for."""
    schema = (Advice.model_json_schema(by_alias=True, mode="serialization") if options.what == "advice"
              else answers_schema(load_rule_base(options.rules)))
    print(json.dumps(schema, indent=2, ensure_ascii=False))
    return 0


def answers_schema(rule_base: RuleBase) -> dict[str, Any]:
    """The JSON Schema of an answer file."""
    properties = {name: _answer(question, rule_base) for name, question in rule_base.questions.items()}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Answer file",
        "type": "object",
        "required": ["advisor", "answers"],
        "additionalProperties": False,
        "properties": {
            "advisor": {"const": 1, "description": "Version of the format"},
            "title": {"type": "string"},
            "story": {"type": "string"},
            "expect": {"type": "object"},
            "answers": {"type": "object", "additionalProperties": False, "properties": properties},
        },
    }


def _answer(question: Question, rule_base: RuleBase) -> dict[str, Any]:
    form = rule_base.facts[question.question]
    about = {"title": question.ask, "description": f"{question.why} {question.find_out}"}
    if form.kind in ("quantity", "count"):
        example = {"examples": [question.example]} if question.example else {}
        return {**about, **example, "type": ["string", "number"]}
    words = list(rule_base.values_of(form)) + ([UNKNOWN] if question.essential == "no" else [])
    word = {"enum": words}
    if form.kind == "several":
        return {**about, "anyOf": [word, {"type": "array", "items": word, "minItems": 1}]}
    return {**about, **word}
