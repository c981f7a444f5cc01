"""The vocabulary, things, sources and stages themselves: defined once, with unit, range and source."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.errors import AdvisorError, Problem
from advisor.knowledge import model as m
from advisor.knowledge.check.values import did_you_mean
from advisor.knowledge.gathered import gathering_problems
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import Material, RuleBase
from advisor.units import same_dimension

# Words that other YAML programs read as true, false or nothing.
_BOOLEAN_WORDS = frozenset({"yes", "no", "on", "off", "y", "n", "true", "false", "null"})


def word_problems(rule_base: RuleBase) -> list[Problem]:
    """Problems in facts, kinds, things, limits, sources, decisions, topics and cautions."""
    return [*_topic_problems(rule_base), *_source_problems(rule_base), *_fact_problems(rule_base),
            *_thing_problems(rule_base), *_decision_problems(rule_base), *_caution_problems(rule_base)]


def _topic_problems(rule_base: RuleBase) -> Iterator[Problem]:
    needing = (*rule_base.rules.values(), *rule_base.calculations.values(), *rule_base.questions.values())
    for entry in needing:
        if entry.topic is None:
            yield Problem("rules, questions and calculations belong below `topics/<topic>/`", entry.where,
                          "move the entry to a file of its topic")
        elif entry.topic not in rule_base.stage_of_topic:
            yield Problem(f"the topic `{entry.topic}` belongs to no stage", entry.where,
                          did_you_mean(entry.topic, list(rule_base.stage_of_topic)))
    for rule in rule_base.rules.values():
        wanted = (rule.topic or "").replace("_", "-")
        if rule.topic and rule.rule.partition(".")[0] != wanted:
            yield Problem(f"the rule `{rule.rule}` stands in topic `{rule.topic}`", rule.where,
                          f"its id starts with `{wanted}.`")


def _source_problems(rule_base: RuleBase) -> Iterator[Problem]:
    things = (mat.thing for table in rule_base.materials.values() for mat in table.values())
    needing: tuple[m.Entry, ...] = (*rule_base.rules.values(), *rule_base.limits.values(),
                                    *rule_base.cautions.values(), *things)
    cited: list[tuple[str, m.Entry]] = [(s, e) for e in needing for s in getattr(e, "sources", ())]
    cited += [(s, c) for c in rule_base.calculations.values() for s in c.sources]
    cited += [(s, t) for t in rule_base.terms.values() for s in t.sources]
    cited += [(v.source, t) for t in needing if isinstance(t, m.Thing) for v in t.attributes.values()
              if isinstance(v, m.NumberText) and v.source]
    cited += [(limit.value.source, limit) for limit in rule_base.limits.values() if limit.value.source]
    for source, entry in cited:
        if source not in rule_base.sources:
            yield Problem(f"there is no source `{source}`", entry.where, did_you_mean(source, list(rule_base.sources)))
    for limit in rule_base.limits.values():
        if not limit.sources and not limit.value.source:
            yield Problem(f"the limit `{limit.limit}` names no source", limit.where,
                          "add `sources: [common-practice]` or where it comes from")


def _fact_problems(rule_base: RuleBase) -> Iterator[Problem]:
    for name, form in rule_base.facts.items():
        if form.kind in ("choice", "several") and bool(form.values) == bool(form.values_of):
            yield Problem(f"`{name}` needs either `values` or `values_of`", form.where,
                          "list the words under `values`, or name a kind of thing in `values_of`")
        if form.values_of and form.values_of not in rule_base.kinds:
            yield Problem(f"there is no kind `{form.values_of}`", form.where,
                          did_you_mean(form.values_of, list(rule_base.kinds)))
        for word in form.values:
            if word.casefold() in _BOOLEAN_WORDS or word == m.UNKNOWN:
                yield Problem(f"`{word}` cannot be a value of `{name}`", form.where,
                              "other programs read it as true, false or nothing; use kind yes_no or another word")
        if form.kind == "quantity":
            yield from _unit_problems(name, form.unit, form.where)
            if form.plausible is None and name in rule_base.questions:
                yield Problem(f"`{name}` is asked and needs `plausible: [low, high]`", form.where,
                              "give the lowest and highest number that a person could mean")
        if form.plausible and form.plausible[0] > form.plausible[1]:
            yield Problem(f"`{name}`: the plausible range is upside down", form.where, "the lower end comes first")
        if name in rule_base.decisions:
            yield Problem(f"`{name}` is a decision and cannot be a fact too", form.where, "give the fact another name")


def _unit_problems(name: str, unit: str | None, where: str) -> Iterator[Problem]:
    try:
        same_dimension(unit or "", unit or "")
    except AdvisorError:
        yield Problem(f"`{name}` has no known unit", where, "write `unit: mm`; `fraction` where there is none")


def _thing_problems(rule_base: RuleBase) -> Iterator[Problem]:
    for kind in rule_base.kinds.values():
        for name, attribute in kind.attributes.items():
            if attribute.kind in ("quantity", "quantities"):
                yield from _unit_problems(f"{kind.kind}.{name}", attribute.unit or "fraction", kind.where)
            if attribute.kind == "things" and attribute.of not in rule_base.kinds:
                yield Problem(f"`{kind.kind}.{name}` needs `of:` a kind", kind.where,
                              f"one of {', '.join(rule_base.kinds)}")
        for material in rule_base.materials[kind.kind].values():
            yield from _material_problems(kind, material, rule_base)
    yield from gathering_problems(rule_base)


def _material_problems(kind: m.Kind, material: Material, rule_base: RuleBase) -> Iterator[Problem]:
    where = material.thing.where
    if material.id in _BOOLEAN_WORDS or material.id == m.UNKNOWN:
        yield Problem(f"`{material.id}` cannot be an id", where, "other programs read it as true, false or nothing")
    for name in material.thing.attributes:
        if name not in kind.attributes:
            yield Problem(f"`{kind.kind}` has no attribute `{name}`", where, did_you_mean(name, list(kind.attributes)))
    for name, value in material.values.items():
        attribute = kind.attributes[name]
        words = {"yes_no": ["yes", "no"], "choice": list(attribute.values),
                 "several": list(attribute.values),
                 "things": list(rule_base.materials.get(attribute.of or "", {}))}.get(attribute.kind)
        if words is not None:
            for word in (value if isinstance(value, tuple) else (value,)):
                if word not in words:
                    yield Problem(f"`{name}` has no value `{word}`", where, did_you_mean(str(word), words))
        if isinstance(value, Number) and attribute.plausible:
            low, high = attribute.plausible
            if not low <= value.low <= value.high <= high:
                yield Problem(f"`{material.id}.{name}` is outside {low:g} to {high:g}", where,
                              f"the unit is {attribute.unit or 'none'}")


def _decision_problems(rule_base: RuleBase) -> Iterator[Problem]:
    for decision in rule_base.decisions.values():
        for what, id_, table in (("kind", decision.of, rule_base.kinds), ("stage", decision.stage, rule_base.stages),
                                 ("decision", decision.if_none.withdraw, rule_base.decisions)):
            if id_ is not None and id_ not in table:
                yield Problem(f"there is no {what} `{id_}`", decision.where, did_you_mean(id_, list(table)))
        if (decision.if_none.refer is None) == (decision.if_none.withdraw is None):
            yield Problem("`if_none` needs `refer` or `withdraw`", decision.where,
                          "write `if_none: {refer: a repairer}` or `{withdraw: decision}`, one of the two")
        plan = decision.plan
        for name in (plan.fact, plan.standing, plan.against) if plan else ():
            if name not in rule_base.facts:
                yield Problem(f"unknown fact `{name}`", decision.where, did_you_mean(name, list(rule_base.facts)))


def _caution_problems(rule_base: RuleBase) -> Iterator[Problem]:
    raised = {c for rule in rule_base.rules.values() for line in rule.then if isinstance(line, m.CautionRef)
              for c in line.cautions}
    for name, caution in rule_base.cautions.items():
        if name not in raised:
            yield Problem(f"no rule raises the caution `{name}`", caution.where, "raise it in a rule or take it out")
