"""The review of a person's own plan: one verdict for each point, and all of them counted in a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.consultation.advice import ReviewLine, Why

_ORDER = ("fails", "change", "not_told", "sound")
_COUNTED = {"fails": ("fails", "fail"), "change": ("should change", "should change"),
            "not_told": ("is not told", "are not told"), "sound": ("is sound", "are sound")}
_IN_ORDER = ("is right in itself", "are right in themselves")
_MOST_NAMED = 2
WILL_FAIL = "This plan will fail:"
WHAT_THE_RULES_WOULD_DO = "What the rules would do:"


def one_verdict_each(lines: Iterable[ReviewLine]) -> tuple[ReviewLine, ...]:
    """Every point once, the worst first: what several rules say of one point is put together under its worst verdict.

    That a point is sound is left out where anything else is said of it.
    """
    points: dict[str, list[ReviewLine]] = {}
    for line in lines:
        points.setdefault(line.about, []).append(line)
    return tuple(sorted((_together(point) for point in points.values()), key=_place))


def _place(line: ReviewLine) -> int:
    return _ORDER.index(line.verdict)


def _together(lines: list[ReviewLine]) -> ReviewLine:
    ordered = sorted(lines, key=_place)
    worst = ordered[0]
    told = [line for line in ordered if line.verdict != "sound" or worst.verdict == "sound"]
    return ReviewLine(
        about=worst.about, verdict=worst.verdict, say=_joined(line.say for line in told),
        why=Why(rule=worst.why.rule, because=_joined(line.why.because for line in told),
                source=tuple(dict.fromkeys(source for line in told for source in line.why.source))))


def _joined(texts: Iterable[str]) -> str:
    return " ".join(dict.fromkeys(texts))


def counted(review: Sequence[ReviewLine]) -> str:
    """What fails first, then all points counted: `Of the 9 points of your plan 1 should change and 8 are sound.`

    Where one fails the plan fails, so the points that are right are only right by themselves.
    """
    failing = [line.about for line in review if line.verdict == "fails"]
    counts = {verdict: sum(line.verdict == verdict for line in review) for verdict in _ORDER}
    words = {**_COUNTED, "sound": _IN_ORDER} if failing else _COUNTED
    parts = [f"{count} {words[verdict][count > 1]}" for verdict, count in counts.items() if count]
    listed = " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
    more = f" and {len(failing) - _MOST_NAMED} more points" if len(failing) > _MOST_NAMED + 1 else ""
    head = f"{WILL_FAIL} {'; '.join(failing[:_MOST_NAMED] if more else failing)}{more}. " if failing else ""
    if len(review) == 1:
        return head or f"The one point of your plan {_COUNTED[review[0].verdict][0]}."
    return f"{head}Of the {len(review)} points of your plan {listed}."
