"""`advisor schema`: JSON Schemas, so that editors can complete and check files."""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping
from typing import Any

from advisor.consultation.advice import Advice
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import UNKNOWN, Attribute, Kind, Question
from advisor.knowledge.product_card import LONGEST_HAZARD, MOST_HAZARDS, card_kinds, fields_of
from advisor.knowledge.rulebase import RuleBase
from advisor.record_file import JobRecord

YES_NO = {"yes": "Yes", "no": "No"}


def run(options: argparse.Namespace) -> int:
    """Print the schema asked for."""
    if options.what == "advice":
        schema = Advice.model_json_schema(by_alias=True, mode="serialization")
    elif options.what == "record":
        schema = JobRecord.model_json_schema()
    else:
        rule_base = load_rule_base(options.rules)
        schema = answers_schema(rule_base) if options.what == "answers" else product_schema(rule_base)
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
            "set_aside": {"type": "object", "description": "Answers that did not fit the rules when this was saved"},
        },
    }


def product_schema(rule_base: RuleBase) -> dict[str, Any]:
    """The JSON Schema of a product card: one shape for each kind of thing that a card may describe."""
    cards = [_card(rule_base.kinds[kind], {name: one.thing.label for name, one in rule_base.materials[kind].items()})
             for kind in card_kinds(rule_base)]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Product card", "oneOf": cards}


def _card(kind: Kind, families: Mapping[str, str]) -> dict[str, Any]:
    values = {name: _property(form) for name, form in fields_of(kind).items()}
    warning = {"type": "string", "maxLength": LONGEST_HAZARD}
    return {
        "title": kind.label, "type": "object", "required": ["advisor", "product", "kind", "family", "values"],
        "additionalProperties": False,
        "properties": {
            "advisor": {"const": 1}, "product": {"type": "string", "description": "What you call it"},
            "kind": {"const": kind.kind}, "family": _one_of(families),
            "values": {"type": "object", "additionalProperties": False, "minProperties": 1, "properties": values},
            "hazards": {"anyOf": [warning, {"type": "array", "items": warning, "maxItems": MOST_HAZARDS}],
                        "description": "The maker's own warnings, word for word"},
        },
    }


def _property(form: Attribute) -> dict[str, Any]:
    told = [f"in {form.unit}"] if form.unit else []
    told += [form.where_on_sheet] if form.where_on_sheet else []
    about = {"title": form.label, **({"description": ". ".join(told)} if told else {})}
    quantity = {"type": ["string", "number"]}
    if form.kind == "quantity":
        return {**about, **quantity}
    if form.kind == "quantities":
        return {**about, "anyOf": [quantity, {"type": "array", "items": quantity, "minItems": 1}]}
    return {**about, **_one_of(form.values if form.kind == "choice" else YES_NO)}


def _answer(question: Question, rule_base: RuleBase) -> dict[str, Any]:
    form = rule_base.facts[question.question]
    about = {"title": question.ask, "description": f"{question.why} {question.find_out}"}
    if form.kind in ("quantity", "count"):
        example = {"examples": [question.example]} if question.example else {}
        return {**about, **example, "type": ["string", "number"]}
    not_known = {UNKNOWN: "I don't know"} if question.takes_unknown else {}
    word = _one_of({**rule_base.values_of(form), **not_known})
    if form.kind == "several":
        return {**about, "anyOf": [word, {"type": "array", "items": word, "minItems": 1}]}
    return {**about, **word}


def _one_of(words: Mapping[str, str]) -> dict[str, Any]:
    """One of these words, each with its meaning, which editors show beside it."""
    return {"oneOf": [{"const": word, "title": meaning} for word, meaning in words.items()]}
