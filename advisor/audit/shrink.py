"""A failing case made as small as it stays failing."""

from __future__ import annotations

from collections.abc import Callable

from advisor.audit.findings import Typed

Fails = Callable[[Typed], bool]
MOST_TRIES = 600


def shrunk(answers: Typed, fails: Fails) -> Typed:
    """Leave out answers, then single words of lists, for as long as the case still fails in the same way.

    Whole runs of answers are tried first; the result fails, and no single answer more can be left out of it
    (unless the tries were used up).
    """
    tries = 0

    def still(candidate: Typed) -> bool:
        nonlocal tries
        tries += 1
        return tries <= MOST_TRIES and fails(candidate)

    small = dict(answers)
    size = max(len(small) // 2, 1)
    while True:
        before = dict(small)
        for start in range(0, len(before), size):
            dropped = list(before)[start:start + size]
            candidate = {name: given for name, given in small.items() if name not in dropped}
            if len(candidate) < len(small) and still(candidate):
                small = candidate
        if size == 1 and small == before:
            break
        size = max(size // 2, 1)
    return _fewer_words(small, still)


def _fewer_words(small: Typed, still: Fails) -> Typed:
    for name, given in list(small.items()):
        words = given if isinstance(given, list) else []
        for word in list(words):
            fewer = [other for other in words if other != word]
            if fewer and still({**small, name: fewer}):
                words = fewer
                small = {**small, name: fewer}
    return small
