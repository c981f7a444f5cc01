"""Where consultations are saved, and under which names."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Iterator
from datetime import date
from itertools import count
from pathlib import Path

from advisor.errors import InputError, quoted

HOME_VARIABLE = "ADVISOR_HOME"
CHOOSE_ANOTHER = f"set {HOME_VARIABLE} to a folder that can be written to"
LONGEST_SLUG = 40
# Names that some systems keep for devices.
_DEVICES = frozenset({"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))})


def home() -> Path:
    """The folder for saved consultations: below ADVISOR_HOME, else where the system keeps such things.

    Raises:
        InputError: when the system knows no such place.
    """
    chosen = os.environ.get(HOME_VARIABLE)
    try:
        if chosen:
            return Path(chosen).expanduser().absolute() / "consultations"
        from platformdirs import user_state_path  # only needed here, and slow to import
        found = user_state_path("advisor", appauthor=False) / "consultations"
    except RuntimeError as error:  # a `~` that stands for nothing
        raise InputError("the system names no home folder for you", help=CHOOSE_ANOTHER) from error
    if not found.is_absolute():
        raise InputError("the system names no home folder for you", help=CHOOSE_ANOTHER)
    return found


def typed_path(text: str) -> Path:
    """A file as a person types it; `~` is the home folder.

    Raises:
        InputError: when no file can have that name.
    """
    if "\0" in text:
        raise InputError(f"{quoted(text)} cannot be the name of a file", help="take letters, digits and hyphens")
    return Path(os.path.expanduser(text))  # leaves a `~` that stands for nothing as it is


def slug(title: str) -> str:
    """A title as the name of a file: small letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    name = "-".join(re.findall(r"[a-z0-9]+", plain.replace("'", "")))
    if len(name) > LONGEST_SLUG:
        name = name[:LONGEST_SLUG + 1].rpartition("-")[0] or name[:LONGEST_SLUG]
    if name in _DEVICES or not name:
        return f"job-{name}".rstrip("-")
    return name


def names_for(title: str) -> Iterator[str]:
    """Names for a title, the plainest first: the title, with the date, with date and number."""
    yield slug(title)
    dated = f"{slug(title)}-{date.today().isoformat()}"
    yield dated
    yield from (f"{dated}-{number}" for number in count(2))
