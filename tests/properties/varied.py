"""What `vary` reports, held against advising the case afresh with the other answer.

`python -m tests.properties.varied --cases 100 --seed 1` goes through generated cases and prints every difference;
with `--scenarios` through those instead.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping
from pathlib import Path
from random import Random

from advisor import answer_file
from advisor.consultation.answers import Raw
from advisor.consultation.consult import Advisor
from advisor.consultation.vary import Change, Varied, vary
from advisor.errors import InputError
from advisor.knowledge.numbers import Number
from advisor.knowledge.rulebase import RuleBase
from tests.random_answers import consistent_answers

Outcome = dict[str, object]
NEARER = 0.006
"""As a share of the number: so near to a reported change no other value is tried."""
EVERY = 10
"""After so many cases a line tells how far it came."""
WORST_FIRST = ("no_go", "wait", "go")


def afresh(advisor: Advisor, answers: Mapping[str, Raw]) -> Outcome:
    """What a person would notice of the advice, read off a whole advice: how it ends, or choices, margins, today."""
    case = advisor.consult(answers)
    ended = case.concluded().ended_by
    if ended is not None:
        return {"ended": ended}
    advice = case.advice()
    verdicts = {line.verdict for line in advice.conditions}
    chosen = {choice.decision: choice.chosen for choice in advice.choices if choice.chosen}
    return {**chosen, "failing": sorted(check.name for check in advice.checks if check.verdict == "fails"),
            "today": next((verdict for verdict in WORST_FIRST if verdict in verdicts), "")}


def parts_that_differ(one: Outcome, other: Outcome) -> set[str]:
    """The parts in which two outcomes differ; where one of them ends, that alone."""
    if one.get("ended") != other.get("ended"):
        return {"ended"}
    return {part for part in {*one, *other} if one.get(part) != other.get(part)}


def typed(rules: RuleBase, question: str, value: object) -> Raw:
    """A value as a person would type it."""
    if isinstance(value, Number):
        bare = rules.facts[question].kind == "count" or value.unit == "fraction"
        return f"{value.value:.10g}" if bare else f"{value.value:.10g} {value.unit.replace('1/', 'per ')}"
    return list(value) if isinstance(value, tuple) else str(value)


class Held:
    """One case, what `vary` reports of it, and what was found by advising afresh."""

    def __init__(self, advisor: Advisor, answers: Mapping[str, Raw], random: Random, grid: int) -> None:
        self.advisor, self.answers, self.random, self.grid = advisor, answers, random, grid
        self.rules = advisor.rule_base
        self.base = afresh(advisor, answers)
        self.reported = self.unreported = 0

    def faults(self, most: int | None = None) -> Iterator[str]:
        """Every difference; with `most`, of that many questions taken at random, numbers first."""
        found = vary(self.advisor.consult(self.answers))
        if most is not None:
            self.random.shuffle(found)
            found = sorted(found, key=lambda one: not self._number(one))[:most]
        for one in found:
            yield from self._of_changes(one)
            yield from self._of_numbers(one) if self._number(one) else self._of_words(one)

    def _number(self, one: Varied) -> bool:
        case = self.advisor.consult(self.answers)
        return isinstance(case.answers[one.question].value, Number)

    def _other(self, question: str, value: object) -> set[str]:
        try:
            return parts_that_differ(self.base, afresh(
                self.advisor, {**self.answers, question: typed(self.rules, question, value)}))
        except InputError as error:
            return {f"refused: {error}"}

    def _of_changes(self, one: Varied) -> Iterator[str]:
        for change in (*one.changes, *one.nearest):
            self.reported += 1
            seen, said = self._other(one.question, change.value), {part for part, _, _ in change.changes}
            if seen != said:
                yield f"{one.question} at {change.shown}: reported {sorted(said)}, seen {sorted(seen)}"

    def _of_words(self, one: Varied) -> Iterator[str]:
        """A word that is not reported changes nothing."""
        if self.rules.facts[one.question].kind not in ("choice", "yes_no"):
            return
        reported = {change.value for change in one.changes}
        for word in self.rules.values_of(self.rules.facts[one.question]):
            if word not in reported:
                self.unreported += 1
                if seen := self._other(one.question, word):
                    yield f"{one.question} at {word}: not reported, seen {sorted(seen)}"

    def _of_numbers(self, one: Varied) -> Iterator[str]:
        """Between the nearest values reported, or the ends of what is plausible, nothing changes."""
        given = self.advisor.consult(self.answers).answers[one.question].value
        assert isinstance(given, Number)
        low, high = self._between(one.nearest, given, self.rules.facts[one.question].plausible or (0.0, 0.0))
        for step in range(self.grid):
            value = low + (high - low) * (step + self.random.uniform(0.05, 0.95)) / self.grid
            at = float(round(value)) if self.rules.facts[one.question].kind == "count" else float(f"{value:.3g}")
            if low < at < high and min(abs(at - low), abs(high - at)) > NEARER * abs(at):
                self.unreported += 1
                if seen := self._other(one.question, Number(at, at, at, given.unit)):
                    yield (f"{one.question} ({given.value:g}) at {at:g}, between {low:g} and {high:g}: not reported, "
                           f"seen {sorted(seen)}")

    def _between(self, nearest: tuple[Change, ...], given: Number, ends: tuple[float, float]) -> tuple[float, float]:
        values = [change.value.value for change in nearest if isinstance(change.value, Number)]
        return (max((v for v in values if v < given.value), default=ends[0]),
                min((v for v in values if v > given.value), default=ends[1]))


def generated(advisor: Advisor, cases: int, seed: int) -> Iterator[tuple[str, Mapping[str, Raw]]]:
    """Generated cases whose answers do not contradict each other; each depends on its own seed alone."""
    number = seed
    while cases:
        answers = consistent_answers(advisor, Random(number))
        if not advisor.consult(answers).contradictions():
            cases -= 1
            yield f"seed {number}", answers
        number += 1


def scenarios(advisor: Advisor) -> Iterator[tuple[str, Mapping[str, Raw]]]:
    """The scenarios whose answers do not contradict each other."""
    for path in sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml")):
        answers = answer_file.read(path).answers
        if not advisor.consult(answers).contradictions():
            yield path.stem, answers


def main() -> None:
    """Generated cases; a line for each difference, then the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--cases", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--grid", type=int, default=8)
    parser.add_argument("--scenarios", action="store_true", help="the scenarios in place of generated cases")
    parser.add_argument("--questions", type=int, help="so many of each case, numbers first; all where not given")
    options = parser.parse_args()
    advisor = Advisor.from_folder()
    cases = reported = unreported = faults = 0
    for name, answers in scenarios(advisor) if options.scenarios else generated(advisor, options.cases, options.seed):
        cases += 1
        held = Held(advisor, answers, Random(f"{options.seed} {name}"), options.grid)
        for fault in held.faults(options.questions):
            faults += 1
            print(f"{name}: {fault}", flush=True)
        reported, unreported = reported + held.reported, unreported + held.unreported
        if cases % EVERY == 0:
            print(f"{cases} cases so far, {faults} differences", flush=True)
    print(f"{cases} cases: {reported} changes reported, {unreported} other answers that should change nothing; "
          f"{faults} differences")


if __name__ == "__main__":
    main()
