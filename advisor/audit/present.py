"""The report of an audit in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor import answer_file
from advisor.audit.bench import TEXTS_EVERY, Noticed
from advisor.audit.run import Report
from advisor.knowledge import model as m

_SHOWN = 12


def coverage(report: Report) -> Iterator[tuple[str, str]]:
    """The table of coverage: what, and how much of it was reached."""
    tally, rules = report.tally, report.rule_base
    fired = [rule for rule in rules.rules if rule in tally.fired]
    by_case = [rule for rule in fired if any(name.startswith("case ") for name in tally.fired[rule])]
    by_scenario = [rule for rule in fired if any(name.startswith("scenario ") for name in tally.fired[rule])]
    things = {f"{name} {thing}" for name, decision in rules.decisions.items() for thing in rules.materials[decision.of]}
    cautions = {f"caution {name}" for name in rules.cautions}
    concluded = {f"{line.fact}={line.value}" for rule in rules.rules.values() for line in rule.then
                 if isinstance(line, m.Conclude) and not rule.for_each and not line.value.startswith("limit/")}
    yield "rules fired", _of(len(fired), len(rules.rules))
    yield "  by generated cases", _of(len(by_case), len(rules.rules))
    yield "  by scenarios", _of(len(by_scenario), len(rules.rules))
    yield "  by examples beside them", _of(len(report.shown_by_examples), len(rules.rules))
    for what, names in (("things chosen", things), ("cautions raised", cautions), ("words concluded", concluded)):
        yield what, _of(sum(name in tally.reached for name in names), len(names))
    yield "questions asked", _of(sum(name in tally.asked for name in rules.questions), len(rules.questions))
    yield "pairs of answers put", _of(report.pairs.covered, report.pairs.total)
    yield "invariants put to the test", _of(len(rules.invariants) - len(report.idle_invariants), len(rules.invariants))


def _of(part: int, whole: int) -> str:
    return f"{part} of {whole}"


def summary(report: Report) -> Iterator[str]:
    """What was tried and how the cases ended."""
    tally = report.tally
    yield (f"{tally.cases} generated cases (seed {report.wish.seed}, {len(report.pairs.rows)} of them pairwise), "
           f"{report.scenarios} scenarios, {len(report.rule_base.examples)} examples beside the rules; each "
           f"{TEXTS_EVERY}th case was put into words.")
    yield "The cases ended in: " + ", ".join(f"{end.replace('_', ' ')} {count}" for end, count in
                                             sorted(tally.ends.items())) + "."


def remarks(report: Report) -> Iterator[str]:
    """What is no fault but worth knowing."""
    unfired = report.only_in_examples
    if unfired:
        yield (f"{len(unfired)} rules fired in an example beside them, but in no case and no scenario: "
               f"{', '.join(unfired)}")
    if report.idle_invariants:
        yield f"no case gave these invariants anything to judge: {', '.join(report.idle_invariants)}"
    idle = [name for name in report.rule_base.questions if name not in report.tally.asked]
    if idle:
        yield f"never asked: {', '.join(idle)}"


def firing(report: Report) -> Iterator[str]:
    """Which case or scenario fires each rule; examples where nothing else does."""
    shown = {rule: f"example {one.where}" for one in report.rule_base.examples for rule in one.fires}
    for rule in report.rule_base.rules:
        names = report.tally.fired.get(rule, [])
        first = next((name for name in names if name.startswith("scenario ")), names[0] if names else "")
        yield f"{rule}: {first or shown.get(rule, 'nothing')}"


def faults(report: Report) -> Iterator[str]:
    """Every fault with its smallest case as an answer file."""
    for fault in report.faults:
        times = report.tally.seen.get(fault.key, 1)
        yield f"FAULT {fault.key}" + (f" ({times} times)" if times > 1 else "")
        yield f"  {fault.says}"
        if fault.answers is not None:
            title = f"{fault.case} of seed {report.wish.seed}" if fault.case.startswith("case") else fault.case
            yield "  the smallest case:\n" + answer_file.written(title, fault.answers)


@dataclass(frozen=True)
class Share:
    """How many of the changes that make a difference were noticed, and by what."""

    change: str
    changes: int
    untried: int
    without_difference: int
    by_example: int
    by_scenario: int
    by_invariant: int
    noticed: int
    advice_noticed: int

    @property
    def counting(self) -> int:
        """The changes that make a difference to some advice."""
        return self.changes - self.untried - self.without_difference


def share_of(change: str, found: list[Noticed]) -> Share:
    """The figures for one kind of change; a change that nobody could notice in any advice does not count."""
    differing = [one for one in found if one.differs]
    return Share(change, len(found), sum(not one.tried for one in found),
                 sum(bool(one.tried) and not one.differs for one in found),
                 sum(one.by_example for one in differing), sum(one.by_scenario for one in differing),
                 sum(one.by_invariant for one in differing), sum(is_noticed(one) for one in differing),
                 sum(one.by_scenario or one.by_invariant for one in differing))


def is_noticed(one: Noticed) -> bool:
    """Whether anything noticed a change."""
    return one.by_example or one.by_scenario or one.by_invariant


def mutation(report: Report) -> Iterator[str]:
    """The mutation check: changes, those that make a difference, and who noticed."""
    if not report.noticed:
        return
    yield "Rules with a stop, a referral, a danger or a rule-out, spoiled one at a time:"
    for change in ("deleted", "silenced", "narrowed"):
        yield "  " + _line(share_of(change, [one for one in report.noticed if one.mutant.change == change]))
    yield "  " + _line(share_of("together", report.noticed))
    missed = [one.mutant.name for one in report.noticed if one.differs and not is_noticed(one)]
    if missed:
        yield f"  not noticed: {'; '.join(missed)}"


def _line(share: Share) -> str:
    part = 100 * share.noticed / share.counting if share.counting else 100.0
    alone = 100 * share.advice_noticed / share.counting if share.counting else 100.0
    return (f"{share.change}: {share.noticed} of {share.counting} that change some advice were noticed ({part:.1f} %; "
            f"without examples {alone:.1f} %) - invariants {share.by_invariant}, scenarios {share.by_scenario}, "
            f"examples {share.by_example}; {share.without_difference} more change no advice, since other rules say "
            f"the same; {share.untried} more were tried by no case")
