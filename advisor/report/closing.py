"""What to beware of, what was not known, and where it all comes from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.consultation.advice import Advice, CautionLine, Pivot, TraceLine
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.blocks import Block, Item, Line, Tone
from advisor.report.glossary import terms_in

_DISPUTED = "disputed_"


def stops(advice: Advice) -> Iterator[Block]:
    """What must stop the work; what the verdict says already is not said twice."""
    for caution in _of(advice, "stop"):
        yield Line(caution.text, tone="alarm")
        if caution.because not in advice.verdict:
            yield Line(caution.because, phrases.BECAUSE)
        if caution.defer_to and caution.defer_to not in advice.turn_to:
            yield Line(caution.defer_to, phrases.ABOVE_US)


def turn_to(advice: Advice) -> Iterator[Block]:
    """Whom to turn to when no method is given."""
    yield from (Item(Line(text, tone="strong")) for text in advice.turn_to)


def cautions(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Danger, then care, then notes."""
    for severity in ("danger", "care", "note"):
        found = [caution for caution in _of(advice, severity) if not _is_disputed(caution)]
        yield from (_caution(caution, rule_base, details) for caution in found)


def disputed(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Where practitioners disagree, and how this advice decides."""
    for caution in advice.cautions:
        if _is_disputed(caution):
            yield Item(Line(caution.text), tuple(_below(caution, rule_base, details)))


def _of(advice: Advice, severity: str) -> list[CautionLine]:
    return [caution for caution in advice.cautions if caution.severity == severity]


def _is_disputed(caution: CautionLine) -> bool:
    return caution.id.startswith(_DISPUTED) and caution.severity != "stop"


def _caution(caution: CautionLine, rule_base: RuleBase, details: bool) -> Item:
    tone: Tone = "alarm" if caution.severity == "danger" else "plain"
    return Item(Line(caution.text, phrases.SIGNAL[caution.severity], tone),
                tuple(_below(caution, rule_base, details)))


def _below(caution: CautionLine, rule_base: RuleBase, details: bool) -> Iterator[Line]:
    yield Line(caution.because)
    if caution.defer_to:
        yield Line(caution.defer_to, phrases.ABOVE_US)
    if details:
        yield Line(f"{references.short(caution.source, rule_base)} ({caution.id})", phrases.SAID_BY)


def assumed(advice: Advice) -> Iterator[Block]:
    """Values taken because nobody knew them."""
    for line in advice.assumed:
        yield Item(Line(line.ask), (Line(line.value, phrases.TAKEN_AS), Line(line.because, phrases.BECAUSE)))


def told(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """The answers the advice was made from, as they were understood."""
    for line in advice.trace:
        if line.origin == "answer":
            yield Item(Line(line.value, _fact(line.fact, rule_base)))


def missing(advice: Advice) -> Iterator[Block]:
    """Questions not answered and numbers that could not be worked out; what was assumed stands there already."""
    elsewhere = {line.question for line in advice.assumed}
    yield from (Item(Line(line.text)) for line in advice.missing if line.question not in elsewhere)


def pivotal(advice: Advice) -> Iterator[Block]:
    """Which unknown answers decide, and which do not matter."""
    for pivot in sorted(advice.pivotal, key=lambda pivot: not pivot.matters):
        yield _decides(pivot) if pivot.matters else Item(
            Line(pivot.ask, phrases.NO_MATTER), (Line(phrases.NO_MATTER_TEXT),))


def _decides(pivot: Pivot) -> Item:
    answers: dict[str, list[str]] = {}
    for value, outcome in pivot.outcomes.items():
        answers.setdefault(outcome, []).append(value)
    outcomes = (Line(f"{phrases.IF_ANSWER} {'; '.join(values)}", outcome) for outcome, values in answers.items())
    return Item(Line(pivot.ask, phrases.DECIDES, "strong"),
                (*outcomes, Line(pivot.find_out, phrases.FIND_OUT)))


def confirm(advice: Advice) -> Iterator[Block]:
    """Numbers to read on the maker's sheet, with the value used until then."""
    if advice.confirm:
        yield Line(phrases.CONFIRM_FIRST)
    for line in advice.confirm:
        used = f" ({phrases.UNTIL_THEN} {line.used})" if line.used else ""
        yield Item(Line(line.text + used))


def words(texts: Iterable[str], rule_base: RuleBase) -> Iterator[Block]:
    """The words of the trade that stand in the texts, explained."""
    for term, other_names in terms_in(texts, rule_base.terms):
        label = f"{term.label} ({', '.join(other_names)})" if other_names else term.label
        yield Item(Line(term.means, label))


def sources(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Every source behind the advice, once, and which rules gave it."""
    for text in dict.fromkeys(references.full(id_, rule_base) for id_ in references.used(advice, details)):
        yield Item(Line(text))
    stamp = advice.rule_base
    yield Line(phrases.STAMP.format(version=stamp.version, mark=stamp.hash[:12]))


def trace(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """How each fact came to be known, in the order of reasoning."""
    for line in advice.trace:
        yield Item(Line(line.value, _fact(line.fact, rule_base)), tuple(_origin(line, rule_base)))


def _origin(line: TraceLine, rule_base: RuleBase) -> Iterator[Line]:
    yield Line(f"{line.because} ({line.rule})", phrases.BECAUSE)
    if line.from_:
        yield Line(", ".join(_fact(name, rule_base) for name in line.from_), phrases.FOLLOWS_FROM)
    if line.source:
        yield Line(references.short(line.source, rule_base), phrases.SAID_BY)


def _fact(name: str, rule_base: RuleBase) -> str:
    if name in rule_base.facts:
        return rule_base.facts[name].label
    owner = name.partition(".")[0]
    attribute, form = rule_base.attribute(name), rule_base.facts.get(owner) or rule_base.decisions.get(owner)
    return f"{form.label}: {attribute.label}" if attribute and form else name
