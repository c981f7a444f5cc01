"""The whole rule base as one Markdown page: every entry with its reason and source, in the order of reasoning."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.handbook.lookup import Found, everything
from advisor.handbook.told import Told
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import RuleBase

_LISTS = (("caution", "Cautions"), ("limit", "Limits"), ("computation", "Computations"), ("word", "Words of the trade"),
          ("source", "Sources"))


def handbook(rule_base: RuleBase) -> str:
    """The handbook as Markdown; the same text for the same rules."""
    return "\n".join(_Book(rule_base).lines()) + "\n"


def anchor(kind: str, id_: str) -> str:
    """The place of an entry in the page."""
    return f"{kind}-{id_}"


class _Book:
    def __init__(self, rule_base: RuleBase) -> None:
        self.base = rule_base
        self.found = everything(rule_base)

    def lines(self) -> Iterator[str]:
        base = self.base
        yield "# The rules, for readers"
        yield ""
        yield (f"{len(base.rules)} rules, {len(base.questions)} questions, {len(base.cautions)} cautions, "
               f"{len(base.sources)} sources. Made from the rules folder by a program: change the rules, not this "
               "page. Names in ‹these brackets› are filled in from the case at hand.")
        yield ""
        yield from self._contents()
        for stage in base.stages.values():
            yield from self._stage(stage)
        for kind in base.kinds.values():
            yield from self._list(kind.kind, kind.label)
        for kind_id, title in _LISTS:
            yield from self._list(kind_id, title)

    def _contents(self) -> Iterator[str]:
        yield "## Contents"
        yield ""
        for stage in self.base.stages.values():
            yield f"- [{stage.label}](#{anchor('stage', stage.stage)})"
        for kind in self.base.kinds.values():
            yield f"- [{kind.label}](#{anchor('list', kind.kind)})"
        for kind_id, title in _LISTS:
            yield f"- [{title}](#{anchor('list', kind_id)})"
        yield ""

    def _stage(self, stage: m.Stage) -> Iterator[str]:
        yield f'<a id="{anchor("stage", stage.stage)}"></a>'
        yield ""
        yield f"## {stage.label}"
        yield ""
        for topic in stage.topics:
            questions = [one for one in self.base.questions_in_order if one.topic == topic]
            rules = [rule for rule in self.base.rules.values() if rule.topic == topic]
            if not questions and not rules:
                continue
            yield f"### {topic.replace('_', ' ').capitalize()}"
            yield ""
            for question in questions:
                yield from self._question(question)
            for rule in rules:
                yield from self._rule(rule)

    def _question(self, question: m.Question) -> Iterator[str]:
        entry = next(one for one in self.found if one.kind == "question" and one.id == question.question)
        yield f'<a id="{anchor("question", entry.id)}"></a>'
        yield ""
        yield f"#### {entry.headline}"
        yield ""
        yield f"Question `{entry.id}`."
        yield ""
        yield from (f"- {_capital(line)}" for line in entry.lines)
        if entry.uses:
            yield f"- Read by {self._rule_links(entry.uses)}"
        yield ""

    def _rule(self, rule: m.Rule) -> Iterator[str]:
        told = Told(self.base, rule.for_each, links=True)
        yield f'<a id="{anchor("rule", rule.rule)}"></a>'
        yield ""
        yield f"#### {told.text(rule.says)}"
        yield ""
        each = "; ".join(told.each())
        yield f"Rule `{rule.rule}`{f', once for {each}' if each else ''}."
        yield ""
        conditions = told.condition(rule.when)
        if conditions:
            yield "When:"
            yield ""
            yield from (f"- {line}" for line in conditions)
            yield ""
        yield "Then:"
        yield ""
        yield from (f"- {_capital(told.conclusion(line))}" for line in rule.then)
        yield ""
        yield f"Because: {told.text(rule.because)}"
        yield ""
        yield f"Source: {self._source_links(rule.sources)}"
        yield ""

    def _list(self, kind: str, title: str) -> Iterator[str]:
        yield f'<a id="{anchor("list", kind)}"></a>'
        yield ""
        yield f"## {title}"
        yield ""
        for entry in self.found:
            if entry.kind == kind:
                yield from self._entry(entry)

    def _entry(self, entry: Found) -> Iterator[str]:
        yield f'<a id="{anchor(entry.kind, entry.id)}"></a>'
        yield ""
        yield f"#### {entry.headline}"
        yield ""
        yield f"{entry.kind.replace('_', ' ').capitalize()} `{entry.id}`."
        yield ""
        yield from (f"- {_capital(line)}" for line in entry.lines if line)
        if entry.uses and entry.kind != "source":
            yield f"- Used by {self._rule_links(entry.uses)}"
        if entry.kind == "source":
            yield f"- Cited by {len(entry.uses)} entries"
        if entry.sources:
            yield f"- Source: {self._source_links(entry.sources)}"
        yield ""

    def _rule_links(self, rules: Iterable[str]) -> str:
        return ", ".join(f"[{rule}](#{anchor('rule', rule)})" for rule in rules if rule in self.base.rules)

    def _source_links(self, sources: Iterable[str]) -> str:
        return "; ".join(f"[{self.base.sources[source].title}](#{anchor('source', source)})" for source in sources)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
