"""Things that wait for their condition, looked at again only when a fact has come that can change the verdict."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Generic, TypeVar

from advisor.consultation.conditions import AGAIN, Lacks, first_lack, wanting
from advisor.consultation.facts import Facts
from advisor.knowledge.model import Condition

Item = TypeVar("Item")


class Waiting(Generic[Item]):
    """Items in their order, each with what it waits for: one of some facts, or anything at all."""

    def __init__(self, items: Iterable[Item], condition_of: Callable[[Item], Condition | None]) -> None:
        self._condition_of = condition_of
        self._items: list[tuple[Item, Lacks]] = [(item, first_lack(condition_of(item))) for item in items]

    def __iter__(self) -> Iterator[Item]:
        return (item for item, _ in self._items)

    def take(self, facts: Facts, use: Callable[[Item], Lacks | None]) -> bool:
        """Hand every item whose condition holds to `use`, once through; whether any item is done with.

        `use` returns None when the item is done with, else the facts it lacks, or AGAIN or NEVER.
        """
        still: list[tuple[Item, Lacks]] = []
        known = facts.names
        for item, lacks in self._items:
            if lacks is not AGAIN and known.isdisjoint(lacks):
                still.append((item, lacks))
                continue
            missing = wanting(self._condition_of(item), facts)
            if missing is None:
                missing = use(item)
            if missing:  # neither done with nor NEVER
                still.append((item, missing))
        done = len(still) < len(self._items)
        self._items = still
        return done
