"""Why something was not chosen: what spoke for it, what against it, and which other answers would let it win."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from advisor.consultation.advice import Candidate, Choice, EvidenceLine
from advisor.consultation.explain import Explainer, Reason
from advisor.consultation.roots import answers_behind
from advisor.consultation.spoken import evidence_firings
from advisor.consultation.texts import inside
from advisor.consultation.vary import Change, Varied
from advisor.knowledge.rulebase import RuleBase

MOST_VALUES = 6
_MOST_NAMED = 2
_OUT = ("rule_out", "withdraw")


@dataclass(frozen=True)
class NotChosen:
    """One thing of a choice that was not chosen."""

    choice: Choice
    candidate: Candidate

    @property
    def named(self) -> str:
        """What it is, with the choice that it belongs to."""
        return f"{self.choice.label}: {self.candidate.label}"


def not_chosen(choices: Iterable[Choice], words: str, rule_base: RuleBase) -> list[NotChosen]:
    """What was not chosen and goes by these words (its name, a part of it, or its id); a whole name comes alone.

    Where nothing does, what is made with a thing of that name, such as every build-up with woven roving.
    """
    wanted = " ".join(words.casefold().split())
    others = [NotChosen(choice, one) for choice in choices for one in choice.candidates if one.id != choice.chosen]
    whole = [one for one in others if wanted in (one.candidate.id, one.candidate.label.casefold())]
    return (whole or [one for one in others if wanted in one.candidate.label.casefold()]
            or [one for one in others if any(wanted in name for name in _made_of(one, rule_base))])


def instead(choices: Mapping[str, Choice], words: str, rule_base: RuleBase) -> Iterator[str]:
    """Where something of this name was chosen, that it was; where nothing had to be chosen that it could be, that."""
    wanted = " ".join(words.casefold().split())
    chosen = [(choice, one) for choice in choices.values() for one in choice.candidates if one.id == choice.chosen]
    for choice, one in chosen:
        if wanted in (one.id, one.label.casefold()) or one.label.casefold().startswith(wanted):
            yield f"{choice.label}: {one.label} is what was chosen."
    if not chosen or any(wanted in one.label.casefold() for choice in choices.values() for one in choice.candidates):
        return
    taken = "; ".join(f"{choice.label.lower()}: {inside(one.label)}" for choice, one in chosen[:_MOST_NAMED])
    for name, decision in rule_base.decisions.items():
        named = [one for one in rule_base.materials[decision.of].values()
                 if wanted == one.id or wanted in one.thing.label.casefold()] if name not in choices else []
        if named and wanted:
            others = f" (and {len(named) - 1} more of that name)" if len(named) > 1 else ""
            yield (f"{named[0].thing.label}{others} was not weighed: with {taken}, nothing of "
                   f"its kind ({decision.label.lower()}) has to be chosen.")


def _made_of(one: NotChosen, rule_base: RuleBase) -> Iterator[str]:
    """The ids and names of the things that a candidate is made of."""
    kind = rule_base.decisions[one.choice.decision].of
    for name, form in rule_base.kinds[kind].attributes.items():
        parts = rule_base.materials[kind][one.candidate.id].values.get(name)
        if form.of is not None and isinstance(parts, tuple):
            for part in map(str, parts):
                yield from (part, rule_base.materials[form.of][part].thing.label.casefold())


def names_not_chosen(choices: Iterable[Choice]) -> list[str]:
    """The names of all that was not chosen; of those that anything speaks for or against, where there are any."""
    others = [one for choice in choices for one in choice.candidates if one.id != choice.chosen]
    return list(dict.fromkeys(one.label for one in [one for one in others if one.evidence] or others))


def why_not(explainer: Explainer, one: NotChosen, varied: Sequence[Varied]) -> list[Reason]:
    """The balance of what was not chosen, and what would have to be different for it to win.

    `varied` is what `vary` found for the same case: every answer changed alone. Ways that need two other answers at
    once are not looked for; what stands in the way is then named with the answers that it rests on.
    """
    return list(_told(explainer, one, varied))


def _told(explainer: Explainer, one: NotChosen, varied: Sequence[Varied]) -> Iterator[Reason]:
    chosen = next((other.label for other in one.choice.candidates if other.id == one.choice.chosen), None)
    yield Reason(0, f"{one.named}. {f'Chosen was: {chosen}.' if chosen else 'Nothing was chosen.'}")
    by = {does: [line for line in one.candidate.evidence if line.strength in kinds]
          for does, kinds in (("For it", ("require", "favour")), ("Ruled out", _OUT), ("Against it", ("oppose",)))}
    if not by["For it"]:
        yield Reason(1, "Nothing in the answers speaks for it.")
    for does, lines in by.items():
        yield from (Reason(1, f"{does}{_weight(line)}: {line.because}", line.source) for line in lines)
    if ways := ways_to_win(explainer, one, varied):
        yield Reason(0, "Any one of these other answers would make it win, all else as it is:")
        yield from (_told_way(changed, changes) for changed, changes in ways)
        return
    yield Reason(0, "No single other answer would make it win.")
    for line in by["Ruled out"]:
        rests_on = list(dict.fromkeys(_answers_behind(explainer, one, line)))
        if rests_on:
            yield Reason(1, f"That it is ruled out ({line.because}) rests on: {' '.join(rests_on)}")


def ways_to_win(explainer: Explainer, one: NotChosen,
                varied: Sequence[Varied]) -> list[tuple[Varied, list[Change]]]:
    """The questions of which another answer alone would make it win, each with those answers."""
    wins = one.choice.decision, explainer.texts.value(one.choice.decision, one.candidate.id)
    found = [(changed, [change for change in (*changed.changes, *changed.nearest)
                        if any((part, after) == wins for part, _, after in change.changes)]) for changed in varied]
    return [(changed, changes) for changed, changes in found if changes]


def balance(explainer: Explainer, one: NotChosen, varied: Sequence[Varied]) -> dict[str, object]:
    """The same as data: what spoke for it, against it and ruled it out, and which other answers would let it win."""
    lines = [(line.strength, {"rule": line.rule, "weight": line.weight, "because": line.because,
                              "source": list(line.source)}) for line in one.candidate.evidence]
    rests_on = [text for line in one.candidate.evidence if line.strength in _OUT
                for text in _answers_behind(explainer, one, line)]
    return {"decision": one.choice.decision, "candidate": one.candidate.id, "label": one.candidate.label,
            "standing": one.candidate.standing, "chosen": one.choice.chosen,
            "for": [line for strength, line in lines if strength in ("require", "favour")],
            "against": [line for strength, line in lines if strength == "oppose"],
            "ruled_out": [line for strength, line in lines if strength in _OUT],
            "rests_on": list(dict.fromkeys(rests_on)),
            "would_win_if": [{"question": changed.question, "given": changed.given,
                              "answers": [change.shown for change in changes]}
                             for changed, changes in ways_to_win(explainer, one, varied)]}


def _weight(line: EvidenceLine) -> str:
    return f" ({line.weight})" if line.weight else ""


def _told_way(changed: Varied, changes: Sequence[Change]) -> Reason:
    shown = [change.shown[:1].upper() + change.shown[1:] for change in changes[:MOST_VALUES]]
    more = len(changes) - len(shown)
    others = [f"one of {more} others" if more > 1 else "one other"] if more else []
    return Reason(1, f"{changed.ask} {'; or '.join([*shown, *others])}. {changed.said}",
                  fact=changed.question)


def _answers_behind(explainer: Explainer, one: NotChosen, line: EvidenceLine) -> Iterator[str]:
    """The answers at the roots of what ruled it out, as questions with what was said."""
    for firing in evidence_firings(explainer.result, one.choice.decision, one.candidate.id, line.rule):
        for name in answers_behind(firing.support, explainer.result.facts, explainer.case.rule_base):
            yield f"{explainer.case.rule_base.questions[name].ask} {explainer.texts.said(name)}"
