"""What `vary` found, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.consultation.vary import Change, Varied
from advisor.knowledge.rulebase import RuleBase

ENDED = {"": "advice", "stop": "stop or refer", "refer": "refer", "send_back": "contradicts another answer",
         "incomplete": "needs more answers"}
TODAY = {"": "nothing", "go": "go", "wait": "wait", "no_go": "no go"}
MOST_SHOWN = 6


def told(varied: Sequence[Varied], rule_base: RuleBase, most: int | None = None) -> Iterator[tuple[int, str]]:
    """Every answer of which another one would change something, with what it would change, then those that do not
    matter; each line with how far it is set in. With `most`, only so many answers, and how many more there are."""
    deciding = [one for one in varied if one.changes or one.nearest]
    for one in deciding[:most]:
        yield 0, f"{one.ask} {one.said}"
        for change in one.nearest:
            yield 1, f"at {change.shown}: {_changes(change, rule_base)}"
        for change in one.changes[:MOST_SHOWN]:
            yield 1, f"{change.shown}: {_changes(change, rule_base)}"
        if len(one.changes) > MOST_SHOWN:
            yield 1, f"and {len(one.changes) - MOST_SHOWN} other answers that would change something"
        yield 0, ""
    if most is not None and len(deciding) > most:
        yield 0, f"Another answer to {len(deciding) - most} more questions would change something too."
        return
    idle = [one.ask for one in varied if not (one.changes or one.nearest)]
    if idle:
        yield 0, "No other answer to these would change method, materials, margins or today's verdict:"
        yield from ((1, ask) for ask in idle)


def _changes(change: Change, rule_base: RuleBase) -> str:
    return "; ".join(_difference(part, before, after, rule_base) for part, before, after in change.changes)


def _difference(part: str, before: str, after: str, rule_base: RuleBase) -> str:
    if part == "ended":
        return ENDED.get(after, after)
    if part == "today":
        return f"today {TODAY[after]} instead of {TODAY[before]}"
    if part == "failing":
        return f"margins that fail: {after or 'none'} (now {before or 'none'})"
    return f"{rule_base.decisions[part].label.lower()} {after or 'none'} instead of {before or 'none'}"
