"""Conditions, conclusions and texts of the rules in words, for a reader who knows no YAML."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from advisor.knowledge import model as m
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import EVERY, RuleBase
from advisor.knowledge.shapes import PLACEHOLDER
from advisor.units import format_range

_COMPARED = {"below": "is below", "at_most": "is at most", "above": "is above", "at_least": "is at least"}
_EVIDENCE = {"require": "it must be", "favour": "speaks for", "oppose": "speaks against", "rule_out": "rules out",
             "withdraw": "takes back"}
_VERDICTS = {"sound": "sound", "change": "would change", "fails": "will fail", "not_told": "not told", "go": "go",
             "wait": "wait", "no_go": "no go"}


class Told:
    """Puts one entry's conditions and conclusions into words; `for_each` names become what they stand for."""

    def __init__(self, rule_base: RuleBase, for_each: Mapping[str, tuple[str, ...]] | None = None,
                 links: bool = False) -> None:
        self._rule_base = rule_base
        self._links = links
        self._for_each = for_each or {}

    def each(self) -> Iterator[str]:
        """What the entry is repeated for."""
        for name, targets in self._for_each.items():
            if len(targets) == 1 and targets[0].startswith(EVERY):
                yield f"each {self._rule_base.kinds[targets[0].removeprefix(EVERY)].label.lower()}"
            else:
                yield f"each of: {', '.join(self.fact(target) for target in targets)} (“the {name}” below)"

    def condition(self, condition: m.Condition | None) -> list[str]:
        """A condition as a list: every line holds; the last may hold a choice of lines."""
        if condition is None:
            return []
        lines = [self.test(test) for test in condition.all]
        if condition.any:
            lines.append("at least one of these: " + "; ".join(self.test(test) for test in condition.any))
        return lines

    def test(self, test: m.Test) -> str:
        """One test."""
        fact = self.fact(test.fact)
        if test.operator == "between":
            return f"{fact} lies between {self.right(test.values[0])} and {self.right(test.values[1])}"
        if test.operator in _COMPARED:
            return f"{fact} {_COMPARED[test.operator]} {self.right(test.values[0])}"
        words = [self.word(test.fact, value) for value in test.values]
        listed = words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
        return f"{fact}: {listed}" if test.operator in ("is", "one_of") else f"{fact}: told, and not {listed}"

    def fact(self, name: str) -> str:
        """A fact's label; for an attribute, whose it is."""
        owner, dot, attribute = name.partition(".")
        if not dot:
            return self._owner(owner)
        found = self._attribute(owner, attribute)
        return f"{self._owner(owner)}, {found.label[:1].lower() + found.label[1:] if found else attribute}"

    def _owner(self, name: str) -> str:
        if name in self._for_each:
            targets = self._for_each[name]
            if len(targets) == 1 and targets[0].startswith(EVERY):
                return self._rule_base.kinds[targets[0].removeprefix(EVERY)].label
            return f"The {name}"
        form = self._rule_base.facts.get(name)
        decision = self._rule_base.decisions.get(name)
        return form.label if form else decision.label if decision else name.replace("_", " ")

    def _stands_for(self, name: str) -> str:
        return self._for_each.get(name, (name,))[0]

    def _attribute(self, owner: str, attribute: str) -> m.Attribute | None:
        return self._rule_base.attribute(f"{self._stands_for(owner)}.{attribute}")

    def word(self, fact: str, value: str) -> str:
        """A value by its label."""
        if value == m.UNKNOWN:
            return "not known"
        owner, dot, attribute = fact.partition(".")
        if dot:
            found = self._attribute(owner, attribute)
            labels: Mapping[str, str] = dict(found.values) if found else {}
            if found and found.kind == "yes_no":
                labels = {"yes": "yes", "no": "no"}
            if found and found.of:
                labels = {id_: one.thing.label for id_, one in self._rule_base.materials[found.of].items()}
        else:
            name = self._stands_for(owner)
            form = self._rule_base.facts.get(name)
            kind = self._rule_base.kind_of_fact(name)
            labels = {id_: one.thing.label for id_, one in self._rule_base.materials[kind.kind].items()} if kind else (
                self._rule_base.values_of(form) if form else {})
        label = labels.get(value, value.replace("_", " "))
        return label[:1].lower() + label[1:] if label[1:2].islower() else label

    def right(self, written: str) -> str:
        """The right side of a comparison: a limit with its number, or another fact."""
        number = self._rule_base.limit(written)
        if number is None:
            return self.fact(written)
        label = self._rule_base.limits[written.removeprefix("limit/")].label
        return f"{shown(number)} ({label[:1].lower() + label[1:]})"

    def text(self, text: str) -> str:
        """A text with the name of what is filled in where it stands."""
        return PLACEHOLDER.sub(lambda match: self._filled(match[1]), text)

    def _filled(self, name: str) -> str:
        number = self._rule_base.limit(name)
        return shown(number) if number else f"‹{self.fact(name).lower()}›"

    def conclusion(self, line: m.Conclusion) -> str:
        """What follows, in a sentence or two."""
        base = self._rule_base
        if isinstance(line, m.Conclude):
            number = base.limit(line.value)
            return f"{self.fact(line.fact)}: {shown(number) if number else self.word(line.fact, line.value)}"
        if isinstance(line, m.Evidence):
            label = base.decisions[line.decision].label.lower()
            things = ", ".join(self._candidate(line.decision, name) for name in line.candidates)
            strength = f" ({line.strength})" if line.strength else ""
            return f"{_EVIDENCE[line.does]} ({label}): {things}{strength}"
        if isinstance(line, m.Stop):
            return f"{line.does}: no method is given; turn to {self.text(line.turn_to)}"
        if isinstance(line, m.SendBack):
            return "these answers contradict each other: " + ", ".join(self.fact(name) for name in line.questions)
        if isinstance(line, m.CautionRef):
            return "cautions: " + ", ".join(self._caution(name) for name in line.cautions)
        if isinstance(line, m.Review):
            return f"{self.text(line.about)} – {_VERDICTS[line.verdict]}: {self.text(line.say)}"
        if isinstance(line, m.ConditionLine):
            return f"today – {_VERDICTS[line.verdict]}: {self.text(line.say)}"
        return self._other(line)

    def _caution(self, name: str) -> str:
        said = name.replace("_", " ")
        return f"[{said}](#caution-{name})" if self._links else said

    def _candidate(self, decision: str, name: str) -> str:
        if name in self._for_each:
            return f"that {self._rule_base.kinds[self._rule_base.decisions[decision].of].label.lower()}"
        return self._rule_base.materials[self._rule_base.decisions[decision].of][name].thing.label

    def _other(self, line: m.Conclusion) -> str:
        if isinstance(line, m.Check):
            bound = line.bound.replace("_", " ")
            return f"margin – {self.text(line.name)}: {self.fact(line.value)} {bound} {self.right(line.against)}"
        if isinstance(line, m.Step):
            phase = self._rule_base.phases[line.phase].label.lower()
            extra = [f"{name}: {self.text(said)}" for name, said in (
                ("how long", line.how_long), ("go on only when", line.hold), ("right when", line.right_when),
                ("if not", line.if_not)) if said]
            return " – ".join([f"step ({phase}): {self.text(line.do)}", *extra])
        if isinstance(line, m.Specify):
            return f"{self.text(line.about)}: {self.text(line.say)}"
        if isinstance(line, m.Confirm):
            return f"to read on the maker's sheet: {self.text(line.say)}"
        if isinstance(line, m.QuantityLine):
            amount = f", {self.fact(line.amount.rpartition('/')[0] or line.amount)}" if line.amount else ""
            return f"amount – {self.text(line.item)}{amount}{'; to buy' if line.buy == 'yes' else ''}"
        fields = line.model_dump(exclude={"does", "line"}, exclude_none=True, exclude_defaults=True)
        said = "; ".join(f"{name.replace('_', ' ')}: {self._plain(value)}" for name, value in fields.items())
        return f"{line.does.replace('_', ' ')} – {said}"

    def _plain(self, value: object) -> str:
        if isinstance(value, dict):
            return ", ".join(f"{self._plain(name)} = {self._plain(each)}" for name, each in value.items())
        written = str(value)
        if number := self._rule_base.limit(written):
            return shown(number)
        return self.fact(written) if written in self._rule_base.facts else self.text(written).replace("_", " ")


def shown(number: Number) -> str:
    """A number with its range in metric units."""
    return format_range(number.low, number.value, number.high, number.unit, "metric")
