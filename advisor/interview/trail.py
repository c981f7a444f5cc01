"""Where the person is in the interview: what was asked, in which order, and what does not count now."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.consultation.consult import Consultation


class Trail:
    """The questions answered so far in the order asked; those set aside keep their place."""

    def __init__(self, consultation: Consultation) -> None:
        self._consultation = consultation
        self.aside: set[str] = set()
        self._asked: list[str] = []

    def start(self) -> None:
        """Begin with the answers there are, as if they had been asked in the usual order."""
        self.note_aside()
        self._asked = self.counting()

    def add(self, name: str) -> None:
        """A question was answered."""
        if name not in self._asked:
            self._asked.append(name)

    def __contains__(self, name: str) -> bool:
        return name in self._asked

    def before(self, name: str | None) -> str | None:
        """The question asked before this one (the last one for None) that still counts."""
        earlier = self._asked[:self._asked.index(name)] if name in self._asked else self._asked
        return next(reversed(self._that_count(earlier)), None)

    def number(self, name: str) -> int:
        """The place of a question among those that count, from 1."""
        counting = self._that_count(self._asked)
        return counting.index(name) + 1 if name in counting else len(counting) + 1

    def counting(self) -> list[str]:
        """The answered questions that count, in the order of the rules."""
        order = [question.question for question in self._consultation.rule_base.questions_in_order]
        return self._that_count(name for name in order if name in self._consultation.answers)

    def note_aside(self) -> tuple[list[str], list[str]]:
        """Find which answers stopped counting since the last time, and which count again."""
        result = self._consultation.so_far()
        if result.ended_by is not None:
            return [], []  # the evaluation ended before it could tell
        now = {name for name in self._consultation.answers if name not in result.asked}
        gone, returned = sorted(now - self.aside), sorted(self.aside - now)
        self.aside = now
        return gone, returned

    def _that_count(self, names: Iterable[str]) -> list[str]:
        return [name for name in names if name not in self.aside]
