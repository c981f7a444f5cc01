"""What stands in a line's chain suffices for it, and what stands in it is needed, on generated cases.

`python -m tests.properties.chains --cases 400 --seed 1` goes through as many cases, all their lines, and prints
every fault.
"""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from random import Random

from advisor.consultation.consult import Advisor
from advisor.consultation.evaluate import Evaluation, Evaluator
from advisor.consultation.explain import Explainer, Reason
from advisor.consultation.facts import Fact
from advisor.consultation.spoken import Said
from tests.engine.plain_chainer import PlainChainer
from tests.random_answers import consistent_answers

LINES = 3


@dataclass
class Found:
    """How many lines were held to what, and what was wrong."""

    cases: int = 0
    suffices: int = 0
    needed: int = 0
    faults: list[str] = field(default_factory=list)


def leaves(explainer: Explainer, reasons: list[Reason]) -> dict[str, Fact]:
    """The plain facts at the bottom of a chain: what was answered or assumed."""
    facts = explainer.result.facts
    return {fact.name: fact for reason in reasons if (fact := facts.get(reason.fact))
            and fact.origin in ("answer", "assumption")}


def under_an_assumption(explainer: Explainer, reasons: list[Reason]) -> set[str]:
    """What only tells why an assumption is as it is: as a plain fact, the assumption stands without it."""
    found: set[str] = set()
    top: int | None = None
    for reason in reasons:
        if top is not None and reason.depth > top:
            found.add(reason.fact)
            continue
        fact = explainer.result.facts.get(reason.fact)
        top = reason.depth if fact and fact.origin == "assumption" else None
    return found


def still_said(plain: Evaluator, said: Said, known: Mapping[str, Fact], whole: Evaluation) -> bool | None:
    """Whether one of the rules behind a line fires on these facts alone, nothing else being known.

    None where so little is known that what the whole case chose is ruled out or withdrawn: a chain tells what speaks,
    not which answer keeps a cautious rule silent, and those reasons are of another choice.
    """
    result = plain.evaluate({}, final=False, given=known)
    if result.withdrawn or any(one.id == whole.choices[name].chosen and one.standing == "ruled_out"
                               for name, choice in result.choices.items() if name in whole.choices
                               for one in choice.candidates):
        return None
    fired = {id(firing.rule) for firing in result.firings}  # the names of engine rules are unique in their stage only
    return any(id(firing.rule) in fired for firing in said.firings)


def held(advisor: Advisor, seed: int, cases: int, most: int | None = LINES) -> Found:
    """What is not in the chain may go, what is in it may not (unless other chains are shown).

    What was weighed is held to the first half only: a decision survives the loss of one reason among several. Of each
    case `most` lines are taken at random, or all.
    """
    silent = replace(advisor.rule_base, questions={})  # nobody is asked, so nothing is assumed
    programs = advisor.evaluator.programs
    plain = Evaluator(silent, programs, PlainChainer(programs))
    random, found = Random(seed), Found()
    while found.cases < cases:
        found.cases += 1
        explainer = Explainer(advisor.consult(consistent_answers(advisor, random)))
        if explainer.result.withdrawn:
            continue  # reached in a second pass, whose reasons no single pass over plain facts repeats
        lines = [said for said in explainer.lines if said.firings]
        for said in lines if most is None else random.sample(lines, min(most, len(lines))):
            _hold(plain, explainer, said, found)
    return found


def _hold(plain: Evaluator, explainer: Explainer, said: Said, found: Found) -> None:
    reasons = explainer.explain(Said(said.part, said.text, said.rule, said.firings))
    known = leaves(explainer, reasons)
    whole = explainer.result
    said_still = still_said(plain, said, known, whole)
    if said_still is None:
        return
    if not said_still:
        found.faults.append(f"case {found.cases}: {said.rule} does not follow from {sorted(known)}")
        return
    found.suffices += 1
    weighed = any((fact := explainer.result.facts.get(reason.fact)) and fact.origin == "decision"
                  for reason in reasons)
    if weighed or any(reason.also for reason in reasons):
        return
    for name in known.keys() - under_an_assumption(explainer, reasons):
        without = {other: value for other, value in known.items() if other != name}
        if still_said(plain, said, without, whole):
            found.faults.append(f"case {found.cases}: {said.rule} does without {name}")
        found.needed += 1


def main() -> None:
    """A line for each fault, then the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--cases", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--lines", type=int, help="so many lines of each case; all where not given")
    options = parser.parse_args()
    found = held(Advisor.from_folder(), options.seed, options.cases, options.lines)
    print(*found.faults, sep="\n")
    print(f"{found.cases} cases: {found.suffices} lines follow from their chain alone, {found.needed} times a fact "
          f"of a chain was taken away; {len(found.faults)} faults")


if __name__ == "__main__":
    main()
