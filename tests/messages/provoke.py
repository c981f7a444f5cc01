"""Runs every cause, and says which message came of it from which place."""

from __future__ import annotations

import contextlib
import io
import tempfile
from dataclasses import dataclass
from pathlib import Path

from tests.messages.causes import Cause, all_causes
from tests.messages.sites import Built, Site, ran, recorded, sites


@dataclass(frozen=True)
class Provoked:
    """The messages that one cause brought forth, and what was raised in the end that is no message."""

    cause: Cause
    built: tuple[Built, ...]
    other: str = ""


def provoked() -> list[Provoked]:
    """Every cause with what came of it."""
    found = []
    with recorded() as built:
        for cause in all_causes():
            before = len(built)
            other = _tried(cause)
            found.append(Provoked(cause, tuple(built[before:]), other))
    return found


def _tried(cause: Cause) -> str:
    with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()), \
            contextlib.redirect_stderr(io.StringIO()):
        try:
            cause.provoke(Path(folder))
        except Exception as error:
            return "" if type(error).__module__.startswith("advisor.") else repr(error)
    return ""


def by_site(found: list[Provoked]) -> dict[Site, list[tuple[Cause, Built]]]:
    """For each place in the program, the causes that reach it and the message each brings."""
    return {site: [(one.cause, built) for one in found for built in one.built if ran(site, built)] for site in sites()}
