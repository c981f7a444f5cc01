"""The table of causes: what provokes each message."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Cause:
    """What a person did, in a few words, and how a test does the same; it gets a folder of its own."""

    said: str
    provoke: Callable[[Path], object]


def all_causes() -> list[Cause]:
    """Every cause, by part of the program."""
    from tests.messages import in_cards, in_commands, in_files, in_inside, in_rules, in_units
    return [*in_units.CAUSES, *in_files.CAUSES, *in_cards.CAUSES, *in_rules.causes(), *in_commands.CAUSES,
            *in_inside.CAUSES]
