"""What to beware of, what was told, and what was not known."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.consultation.advice import Advice, CautionLine, Pivot
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases, references
from advisor.report.blocks import Block, Item, Line, Table, Tone
from advisor.report.references import fact_label
from advisor.report.running import first_sentence, listed

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
    """Danger whole with its reason, then care, then notes, and once for all who stands above this advice.

    Without the details care goes without its reason, and notes are their first sentence.
    """
    for severity in ("danger", "care", "note"):
        found = [caution for caution in _of(advice, severity) if not _is_disputed(caution)]
        if severity == "note" and found and not details:
            yield Item(Line(" ".join(first_sentence(caution.text) for caution in found), phrases.SIGNAL[severity]))
        else:
            yield from (_caution(caution, rule_base, details) for caution in found)
    yield from makers_words(advice)
    above = [who for caution in advice.cautions if caution.severity != "stop" and caution.defer_to
             for who in caution.defer_to.split("; ")]
    if above and not details:
        yield Line(phrases.ALL_ABOVE_US)


def dangers(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """Danger alone, whole with its reason."""
    yield from (_caution(caution, rule_base, details=False) for caution in _of(advice, "danger")
                if not _is_disputed(caution))


def makers_words(advice: Advice) -> Iterator[Item]:
    """The warnings on the cards of the products that are used, as their makers wrote them."""
    for product in advice.products:
        for hazard in product.hazards if product.used else ():
            yield Item(Line(hazard, phrases.MAKER_SAYS.format(product=product.product)))


def disputed(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Where practitioners disagree, and with the details how this advice decides."""
    for caution in advice.cautions:
        if _is_disputed(caution):
            yield (Item(Line(caution.text), tuple(_below(caution, rule_base))) if details
                   else Item(Line(first_sentence(caution.text))))


def _of(advice: Advice, severity: str) -> list[CautionLine]:
    return [caution for caution in advice.cautions if caution.severity == severity]


def _is_disputed(caution: CautionLine) -> bool:
    return caution.id.startswith(_DISPUTED) and caution.severity != "stop"


def _caution(caution: CautionLine, rule_base: RuleBase, details: bool) -> Item:
    danger = caution.severity == "danger"
    tone: Tone = "alarm" if danger else "plain"
    head = Line(caution.text, phrases.SIGNAL[caution.severity], tone)
    if details:
        return Item(head, tuple(_below(caution, rule_base)))
    return Item(head, tail=(Line(caution.because),) if danger else ())


def _below(caution: CautionLine, rule_base: RuleBase) -> Iterator[Line]:
    yield Line(caution.because)
    if caution.defer_to:
        yield Line(caution.defer_to, phrases.ABOVE_US)
    yield Line(f"{references.short(caution.source, rule_base)} ({caution.id})", phrases.SAID_BY)


def assumed(advice: Advice, rule_base: RuleBase, details: bool) -> Iterator[Block]:
    """Values taken because nobody knew them."""
    for line in advice.assumed:
        if details:
            yield Item(Line(line.ask), (Line(line.value, phrases.TAKEN_AS), Line(line.because, phrases.BECAUSE)))
        else:
            yield Item(Line(f"{line.value}.", fact_label(line.question, rule_base)), tail=(Line(line.because),))


def onward(advice: Advice) -> Iterator[Block]:
    """What can be planned next with the answers kept, and how to come there."""
    for line in advice.onward:
        changed = "; ".join(f"{name}: {answer}" for name, answer in line.answers.items())
        yield Item(Line(f"{line.say}."), (Line(changed, phrases.ONWARD_LINES),))
    if advice.onward:
        yield Line(phrases.ONWARD_HOW)


def told(advice: Advice, rule_base: RuleBase) -> Iterator[Block]:
    """The answers the advice was made from, as they were understood; those with the same answer together."""
    same: dict[str, list[str]] = {}
    for line in advice.trace:
        if line.origin == "answer":
            same.setdefault(line.value, []).append(fact_label(line.fact, rule_base))
    yield from (Item(Line(value, label)) for value, labels in same.items() for label in labels)


def missing(advice: Advice) -> Iterator[Block]:
    """Questions not answered and numbers that could not be worked out; what was assumed stands there already."""
    elsewhere = {line.question for line in advice.assumed}
    yield from (Item(Line(line.text)) for line in advice.missing if line.question not in elsewhere)


def pivotal(advice: Advice) -> Iterator[Block]:
    """Which unknown answers decide, and which do not matter."""
    yield from (_decides(pivot) for pivot in advice.pivotal if pivot.matters and pivot.given is None)
    idle = [pivot.ask for pivot in advice.pivotal if not pivot.matters]
    if idle:
        yield Item(Line(" ".join((*idle, phrases.NO_MATTER_TEXT)), phrases.NO_MATTER))


def _decides(pivot: Pivot) -> Item:
    answers: dict[str, list[str]] = {}
    for value, outcome in pivot.outcomes.items():
        answers.setdefault(outcome, []).append(value)
    outcomes = (Line(f"{phrases.IF_ANSWER} {'; '.join(values)}", outcome) for outcome, values in answers.items())
    return Item(Line(pivot.ask, phrases.DECIDES, "strong"),
                (*outcomes, Line(pivot.find_out, phrases.FIND_OUT)))


def confirm(advice: Advice, details: bool) -> Iterator[Block]:
    """Numbers to read on the maker's sheet, with the value used until then."""
    if advice.confirm:
        yield Line(f"{phrases.CONFIRM_FIRST} {phrases.CONFIRM_CARD}" if any(line.used for line in advice.confirm)
                   else phrases.CONFIRM_FIRST)
    yield from (Item(Line(line.text)) for line in advice.confirm if not line.used)
    known: dict[str, list[tuple[str, str]]] = {}
    for line in advice.confirm:
        if line.used:
            product, parted, number = line.text.partition(": ")
            known.setdefault(product if parted else "", []).append((number or product, line.used))
    for product, rows in known.items():
        if details:
            yield Table((product or phrases.CONFIRM_HEADING, phrases.UNTIL_THEN), tuple(rows))
        else:
            label = f"{product}, {phrases.UNTIL_THEN.lower()}" if product else phrases.UNTIL_THEN
            yield Item(Line(listed(f"{number} {used}" for number, used in rows), label))
