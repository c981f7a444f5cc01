"""The rules folder as one object: everything by its id, in the order written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from advisor.errors import Problem
from advisor.knowledge import model as m
from advisor.knowledge.numbers import NO_UNIT, Number, NumberError, read_number

if TYPE_CHECKING:
    from advisor.knowledge.invariants import Invariant

EVERY = "every/"
LIMIT = "limit/"
EntryType = TypeVar("EntryType", bound=m.Entry)
AttributeValue = str | Number | tuple[str, ...] | tuple[float, ...]


@dataclass(frozen=True)
class Material:
    """A thing of a kind with its attributes read: words, numbers with unit and range, lists."""

    thing: m.Thing
    values: Mapping[str, AttributeValue]

    @property
    def id(self) -> str:
        """The thing's id."""
        return self.thing.thing


@dataclass(frozen=True)
class RuleBase:
    """All knowledge, frozen; see `advisor.knowledge.model` for the entries."""

    hash: str
    stages: Mapping[str, m.Stage]
    phases: Mapping[str, m.Phase]
    sources: Mapping[str, m.Source]
    limits: Mapping[str, m.Limit]
    facts: Mapping[str, m.FactForm]
    questions: Mapping[str, m.Question]
    calculations: Mapping[str, m.Calculation]
    rules: Mapping[str, m.Rule]
    examples: tuple[m.Example, ...]
    cautions: Mapping[str, m.Caution]
    terms: Mapping[str, m.Term]
    decisions: Mapping[str, m.Decision]
    kinds: Mapping[str, m.Kind]
    materials: Mapping[str, Mapping[str, Material]]
    numbers: Mapping[str, Number] = field(default_factory=dict)
    invariants: Mapping[str, Invariant] = field(default_factory=dict)

    def limit(self, written: str) -> Number | None:
        """The number that `limit/NAME` stands for, None for anything else."""
        return self.numbers.get(written.removeprefix(LIMIT)) if written.startswith(LIMIT) else None

    @cached_property
    def catalogues(self) -> dict[str, dict[str, dict[str, object]]]:
        """All things of each kind with their attributes, named as arguments are: `areal_mass_g_m2`."""
        return {kind: {id_: {key: value for name, written in material.values.items()
                             for key, value in as_arguments(name, written).items()}
                       for id_, material in things.items()}
                for kind, things in self.materials.items()}

    @cached_property
    def stage_of_topic(self) -> dict[str, str]:
        """Which stage each topic belongs to."""
        return {topic: stage.stage for stage in self.stages.values() for topic in stage.topics}

    @cached_property
    def stage_order(self) -> dict[str, int]:
        """The place of each stage in the order of reasoning."""
        return {stage: place for place, stage in enumerate(self.stages)}

    def stage_of(self, entry: m.Entry) -> str:
        """The stage an entry of a topic belongs to."""
        return self.stage_of_topic[entry.topic or ""]

    def values_of(self, fact: m.FactForm) -> dict[str, str]:
        """The allowed values of a choice, several or yes_no fact, with their labels."""
        if fact.kind == "yes_no":
            return {"yes": "Yes", "no": "No"}
        if fact.values_of:
            return {id_: mat.thing.label for id_, mat in self.materials.get(fact.values_of, {}).items()}
        return fact.values

    def kind_of_fact(self, name: str) -> m.Kind | None:
        """The kind of thing a fact's value is, if it is one; `every/adhesive` is that kind itself."""
        if name.startswith(EVERY):
            return self.kinds.get(name.removeprefix(EVERY))
        if name in self.decisions:
            return self.kinds.get(self.decisions[name].of)
        form = self.facts.get(name)
        return self.kinds.get(form.values_of) if form and form.values_of else None

    def label_of(self, fact: str, word: str) -> str:
        """What a word of a fact's value is called; the word itself where nothing gives it a label."""
        key = fact, word
        if key not in self._labels:
            self._labels[key] = self._label_of(fact, word)
        return self._labels[key]

    @cached_property
    def _labels(self) -> dict[tuple[str, str], str]:
        return {}

    def _label_of(self, fact: str, word: str) -> str:
        kind = self.kind_of_fact(fact)
        if kind and word in self.materials[kind.kind]:
            return self.materials[kind.kind][word].thing.label
        attribute = self.attribute(fact)
        if attribute and attribute.of:
            thing = self.materials[attribute.of].get(word)
            return thing.thing.label if thing else word
        form = self.facts.get(fact)
        labels = self.values_of(form) if form else (attribute.values if attribute else {})
        return labels.get(word, word)

    def attribute(self, name: str) -> m.Attribute | None:
        """The attribute named by a dotted fact such as `face_a.family`."""
        owner, _, attribute = name.partition(".")
        kind = self.kind_of_fact(owner)
        return kind.attributes.get(attribute) if kind else None

    @cached_property
    def questions_in_order(self) -> tuple[m.Question, ...]:
        """Questions by stage, then topic, then as written."""
        topics = [topic for stage in self.stages.values() for topic in stage.topics]
        place = {topic: number for number, topic in enumerate(topics)}
        return tuple(sorted(self.questions.values(), key=lambda q: place.get(q.topic or "", len(place))))

    @cached_property
    def calculations_of_stage(self) -> dict[str, list[m.Calculation]]:
        """The calculations of each stage, in topic order."""
        return {stage: self.in_stage(self.calculations.values(), stage) for stage in self.stages}

    @cached_property
    def read_by(self) -> dict[str, tuple[str, ...]]:
        """The facts and limits that each calculation reads, each once."""
        return {name: tuple(dict.fromkeys(m.split_end(item)[0] for given in calculation.inputs.values()
                                          for item in given if not item.startswith(EVERY)))
                for name, calculation in self.calculations.items()}

    def in_stage(self, entries: Iterable[EntryType], stage: str) -> list[EntryType]:
        """The rules or calculations of one stage, in topic order, then as written."""
        topics = self.stages[stage].topics
        mine = [entry for entry in entries if entry.topic in topics]
        return sorted(mine, key=lambda entry: topics.index(entry.topic or ""))


def as_arguments(name: str, value: AttributeValue) -> dict[str, object]:
    """A property as computations take it: by its unit, and with its ends where it has a range."""
    if not isinstance(value, Number):
        return {name: {"yes": True, "no": False}.get(value, value) if isinstance(value, str) else value}
    unit = "" if value.unit == NO_UNIT else "_" + value.unit.replace("1/", "per_").replace("/", "_")
    ends = {"": value.value, "_low": value.low, "_likely": value.value, "_high": value.high}
    return {f"{name}{end}{unit}": number for end, number in ends.items()}


def build(entries: Iterable[m.Entry], digest: str, problems: list[Problem]) -> RuleBase:
    """Sort entries into a RuleBase; duplicate ids and unreadable numbers become problems."""
    given = tuple(entries)

    def table(form: type[EntryType], name: str) -> dict[str, EntryType]:
        return _by_id((entry for entry in given if isinstance(entry, form)), name, problems)

    kinds, limits = table(m.Kind, "kind"), table(m.Limit, "limit")
    materials = {kind: _materials(kinds[kind], given, problems) for kind in kinds}
    return RuleBase(
        hash=digest, stages=table(m.Stage, "stage"), phases=table(m.Phase, "phase"),
        sources=table(m.Source, "source"), limits=limits, facts=table(m.FactForm, "fact"),
        questions=table(m.Question, "question"), calculations=table(m.Calculation, "calculation"),
        rules=table(m.Rule, "rule"), examples=tuple(e for e in given if isinstance(e, m.Example)),
        cautions=table(m.Caution, "caution"), terms=table(m.Term, "term"),
        decisions=table(m.Decision, "decision"), kinds=kinds, materials=materials,
        numbers=_limit_numbers(limits, problems), invariants=_invariants(given, problems))


def _by_id(entries: Iterable[EntryType], name: str, problems: list[Problem]) -> dict[str, EntryType]:
    table: dict[str, EntryType] = {}
    for entry in entries:
        id_ = getattr(entry, name)
        if id_ in table:
            problems.append(Problem(f"duplicate id `{id_}`", entry.where,
                                    f"first used at {table[id_].where}; an id is used once"))
        else:
            table[id_] = entry
    return table


def _invariants(entries: Sequence[m.Entry], problems: list[Problem]) -> dict[str, Invariant]:
    if {type(entry) for entry in entries} <= set(m.RUN_TIME_FORMS):
        return {}
    from advisor.knowledge.invariants import Invariant  # only with the tests beside the rules
    return _by_id((entry for entry in entries if isinstance(entry, Invariant)), "invariant", problems)


def _limit_numbers(limits: Mapping[str, m.Limit], problems: list[Problem]) -> dict[str, Number]:
    numbers: dict[str, Number] = {}
    for id_, limit in limits.items():
        try:
            numbers[id_] = read_number(limit.value, None)
        except NumberError as error:
            problems.append(Problem(f"limit `{id_}`: {error}", limit.where, error.help))
    return numbers


def _materials(kind: m.Kind, entries: Iterable[m.Entry], problems: list[Problem]) -> dict[str, Material]:
    mine = (entry for entry in entries if isinstance(entry, m.Thing) and entry.kind == kind.kind)
    things = _by_id(mine, "thing", problems)
    return {id_: Material(thing, _values(kind, thing, problems)) for id_, thing in things.items()}


def _values(kind: m.Kind, thing: m.Thing, problems: list[Problem]) -> dict[str, AttributeValue]:
    values: dict[str, AttributeValue] = {}
    for name, written in thing.attributes.items():
        attribute = kind.attributes.get(name)
        if attribute is None:
            continue  # reported by check
        try:
            values[name] = _value(attribute, written)
        except NumberError as error:
            problems.append(Problem(f"`{thing.thing}.{name}`: {error}", thing.where, error.help))
    return values


def _value(attribute: m.Attribute, written: m.NumberText | tuple[str, ...]) -> AttributeValue:
    unit = attribute.unit or "fraction"
    if attribute.kind == "quantity":
        text = written if isinstance(written, m.NumberText) else m.NumberText(likely=" ".join(written))
        return read_number(text, unit)
    if isinstance(written, m.NumberText):
        raise NumberError("a range stands where words belong", "give a word or a list of words")
    if attribute.kind == "quantities":
        return tuple(read_number(m.NumberText(likely=text), unit).value for text in written)
    if attribute.kind == "things":
        return written
    if len(written) != 1:
        raise NumberError("a list stands where one word belongs", "give one word")
    return written[0]
