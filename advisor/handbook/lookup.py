"""Everything in the rules folder by its id or by words, with where each is used."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches

from advisor.handbook.told import Told, shown
from advisor.knowledge import model as m
from advisor.knowledge.bindings import stands_for
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase

_LIMIT = re.compile(r"limit/[a-z0-9_]+")
_WORD = re.compile(r"[^\W_]+")
_SHORTEST_STEM = 4
_MOST_NEAR, _CLOSE, _FAR = 3, 0.7, 0.2


@dataclass(frozen=True)
class Found:
    """One entry: what it is, its id, its headline, its lines in words, what uses it, and where else it was found.

    `also` names the other entries that hold the words of its id, where it was looked up by its id.
    """

    kind: str
    id: str
    headline: str
    lines: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    where: str = ""
    uses: tuple[str, ...] = field(default=(), compare=False)
    also: tuple[str, ...] = field(default=(), compare=False)

    @property
    def words(self) -> str:
        """Everything that a search looks at."""
        return " ".join((self.id.replace("_", " ").replace("-", " ").replace(".", " "), self.headline, *self.lines))


def everything(rule_base: RuleBase) -> list[Found]:
    """Every entry that a reader may look for, kind by kind, each in the order of the rules folder."""
    return _Reading(rule_base).entries()


def search(entries: Sequence[Found], words: Sequence[str]) -> list[Found]:
    """The entry of that id, with the others that its words stand in, else those that hold all the words.

    Singular and plural are alike, small and capital letters too.
    """
    if len(words) == 1 and (exact := [entry for entry in entries if entry.id == words[0]]):
        others = tuple(f"{entry.kind} {entry.id}" for entry in _holding(entries, words) if entry.id != words[0])
        return [replace(entry, also=others) for entry in exact]
    return _holding(entries, words)


def nearest(entries: Sequence[Found], words: Sequence[str]) -> dict[str, list[str]]:
    """For each word that stands in no entry the words spelled most like it; of nonsense, whatever is nearest."""
    known = sorted({word.casefold() for entry in entries for word in _WORD.findall(entry.words)})
    stems = {_stem(word) for word in known}
    unknown = [word.casefold() for word in _WORD.findall(" ".join(words))
               if not any(stem.startswith(_stem(word)) for stem in stems)]
    return {word: get_close_matches(word, known, _MOST_NEAR, _CLOSE)
            or get_close_matches(word, known, _MOST_NEAR, _FAR) for word in unknown}


def _holding(entries: Sequence[Found], words: Sequence[str]) -> list[Found]:
    wanted = [_stem(word) for word in _WORD.findall(" ".join(words))]
    if not wanted:
        return []
    hits = [(entry, _stems(entry.words)) for entry in entries]
    found = [(entry, stems) for entry, stems in hits
             if all(any(stem.startswith(word) for stem in stems) for word in wanted)]
    return [entry for entry, _ in sorted(found, key=lambda hit: not set(wanted) <= _stems(hit[0].headline))]


def _stems(text: str) -> set[str]:
    return {_stem(word) for word in _WORD.findall(text)}


def _stem(word: str) -> str:
    folded = word.casefold()
    return folded[:-1] if folded.endswith("s") and len(folded) > _SHORTEST_STEM else folded


class _Reading:
    def __init__(self, rule_base: RuleBase) -> None:
        self.base = rule_base
        self.reads: dict[str, list[str]] = {}
        for rule in rule_base.rules.values():
            for name in dict.fromkeys((*_names_read(rule), *_limits_of(rule))):
                self.reads.setdefault(name, []).append(rule.rule)
        for one in rule_base.calculations.values():
            given = (m.split_end(item)[0] for items in one.inputs.values() for item in items)
            for name in dict.fromkeys((*given, *_LIMIT.findall(one.model_dump_json()))):
                self.reads.setdefault(name, []).append(one.calculation)

    def entries(self) -> list[Found]:
        return [*self._rules(), *self._questions(), *self._things(), *self._cautions(), *self._limits(),
                *self._calculations(), *self._terms(), *self._sources()]

    def _rules(self) -> Iterator[Found]:
        for rule in self.base.rules.values():
            told = Told(self.base, rule.for_each)
            yield Found("rule", rule.rule, told.text(rule.says), (
                *(f"for {each}" for each in told.each()),
                *(f"when {line}" for line in told.condition(rule.when)),
                *(f"then {told.conclusion(line)}" for line in rule.then),
                f"because {told.text(rule.because)}"), rule.sources, rule.where)

    def _questions(self) -> Iterator[Found]:
        told = Told(self.base)
        for question in self.base.questions_in_order:
            name = question.question
            form = self.base.facts[name]
            values = list(self.base.values_of(form).values()) if form.kind in ("choice", "several", "yes_no") else []
            unknown = question.dont_know
            yield Found("question", name, told.text(question.ask), (
                f"why: {told.text(question.why)}", f"how to find out: {told.text(question.find_out)}",
                *([f"answers: {'; '.join(values)}"] if values else []),
                *(f"asked when: {line}" for line in told.condition(question.when)),
                *([f"not known: taken as {told.word(name, unknown.assume)}"] if unknown and unknown.assume else [])),
                (), question.where, tuple(self.reads.get(name, ())))

    def _things(self) -> Iterator[Found]:
        told = Told(self.base)
        for kind, things in self.base.materials.items():
            forms = self.base.kinds[kind].attributes
            for id_, material in things.items():
                lines = [told.text(material.thing.means)]
                lines += [f"{forms[name].label}: {told.text(_attribute(forms[name], value))}"
                          for name, value in material.values.items()]
                uses = [rule.rule for rule in self.base.rules.values() if id_ in _names_mentioned(rule)]
                yield Found(kind, id_, material.thing.label, tuple(lines), material.thing.sources,
                            material.thing.where, tuple(uses))

    def _cautions(self) -> Iterator[Found]:
        for caution in self.base.cautions.values():
            raised = [rule.rule for rule in self.base.rules.values() for line in rule.then
                      if isinstance(line, m.CautionRef) and caution.caution in line.cautions]
            defer = [f"above this stands: {caution.defer_to}"] if caution.defer_to else []
            told = Told(self.base)
            yield Found("caution", caution.caution, told.text(caution.text),
                        (f"severity: {caution.severity}", f"because: {told.text(caution.because)}", *defer),
                        caution.sources, caution.where, tuple(dict.fromkeys(raised)))

    def _limits(self) -> Iterator[Found]:
        for limit in self.base.limits.values():
            number = self.base.limit(f"limit/{limit.limit}")
            lines = [shown(number) if number else "", *([f"holds for: {limit.holds}"] if limit.holds else [])]
            yield Found("limit", limit.limit, limit.label, tuple(lines), limit.sources, limit.where,
                        tuple(self.reads.get(f"limit/{limit.limit}", ())))

    def _calculations(self) -> Iterator[Found]:
        told = Told(self.base)
        for one in self.base.calculations.values():
            gives = ", ".join(told.fact(name) for name in one.gives)
            uses = [rule for name in one.gives for rule in self.reads.get(name, ())]
            yield Found("computation", one.calculation, told.text(one.label),
                        (f"gives: {gives}", f"by: {one.using}", *(f"when {line}" for line in told.condition(one.when))),
                        one.sources, one.where, tuple(dict.fromkeys(uses)))

    def _terms(self) -> Iterator[Found]:
        told = Told(self.base)
        for term in self.base.terms.values():
            also = [f"also: {', '.join(term.also)}"] if term.also else []
            yield Found("word", term.term, term.label, (told.text(term.means), *also), term.sources, term.where)

    def _sources(self) -> Iterator[Found]:
        citing = self._citing()
        for source in self.base.sources.values():
            seen = "" if source.seen == "yes" else "known by title, text not seen"
            parts = (source.issuer, source.number, source.title, source.year, source.section, seen)
            yield Found("source", source.source, ", ".join(part for part in parts if part),
                        (source.note,) if source.note else (), (), source.where,
                        tuple(dict.fromkeys(citing.get(source.source, ()))))

    def _citing(self) -> dict[str, list[str]]:
        named: list[tuple[str, tuple[str, ...]]] = [
            *((rule.rule, rule.sources) for rule in self.base.rules.values()),
            *((one.calculation, one.sources) for one in self.base.calculations.values()),
            *((limit.limit, limit.sources) for limit in self.base.limits.values()),
            *((caution.caution, caution.sources) for caution in self.base.cautions.values()),
            *((term.term, term.sources) for term in self.base.terms.values()),
            *((id_, _thing_sources(thing.thing)) for things in self.base.materials.values()
              for id_, thing in things.items())]
        citing: dict[str, list[str]] = {}
        for id_, sources in named:
            for source in sources:
                citing.setdefault(source, []).append(id_)
        return citing


def _attribute(form: m.Attribute, value: object) -> str:
    if isinstance(value, Number):
        return shown(value)
    if isinstance(value, tuple):
        listed = ", ".join(f"{part:g}" if isinstance(part, float) else form.values.get(part) or part.replace("_", " ")
                           for part in value)
        return f"{listed} {form.unit}" if form.unit else listed
    return form.values.get(str(value), str(value))


def _limits_of(rule: m.Rule) -> set[str]:
    """The limits that a rule names anywhere: in a test, a conclusion or a text."""
    return set(_LIMIT.findall(rule.model_dump_json()))


def _thing_sources(thing: m.Thing) -> tuple[str, ...]:
    return (*thing.sources, *(part.source for part in thing.attributes.values()
                              if isinstance(part, m.NumberText) and part.source))


def _names_read(rule: m.Rule) -> Iterator[str]:
    for test in rule.when.tests:
        for name in (test.fact, *(test.values if test.operator in m.NUMBER_OPERATORS else ())):
            for fact in stands_for(rule, name):
                yield fact if fact.startswith("limit/") else fact.partition(".")[0]


def _names_mentioned(rule: m.Rule) -> set[str]:
    named = {value for test in rule.when.tests for value in test.values}
    return named | {name for line in rule.then if isinstance(line, m.Evidence) for name in line.candidates}
