"""Rules kept as last read and found without mistakes, so that the next start need not read and check them again.

Kept by the content of every rules file and of the code that reads them: a change of either is read afresh. What is
kept is plain JSON, validated again when it is read; anything odd about it, and the YAML files are read instead.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from advisor import whole_file
from advisor.knowledge.model import Entry

HOME_VARIABLE = "ADVISOR_HOME"
CACHE_VARIABLE = "XDG_CACHE_HOME"
_OURS = "rules-*.json"


def folder() -> Path:
    """Where kept rules stand: below ADVISOR_HOME, else in the user's cache (platformdirs would slow the start)."""
    home = os.environ.get(HOME_VARIABLE)
    if home:
        return Path(home).expanduser() / "cache"
    base = os.environ.get(CACHE_VARIABLE) or os.environ.get("LOCALAPPDATA")
    return (Path(base) if base else Path.home() / ".cache") / "glass-fibre-advisor"


def key_of(rules: Iterable[bytes]) -> str:
    """The key of a rules folder read by this code."""
    digest = hashlib.sha256(_code())
    for content in rules:
        digest.update(len(content).to_bytes(8, "big") + content)
    return digest.hexdigest()[:32]


@cache
def _code() -> bytes:
    """The code that decides what rules mean; a change of it makes kept rules void."""
    digest = hashlib.sha256()
    for path in sorted(Path(__file__).parent.rglob("*.py")):
        digest.update(path.read_bytes())
    return digest.digest()


def read(key: str, forms: Sequence[type[Entry]]) -> list[Entry] | None:
    """The entries kept under a key; None when there are none that can be used."""
    try:
        content = (folder() / f"rules-{key}.json").read_bytes()
        tables = _adapter(tuple(forms)).validate_json(content)
    except (OSError, ValidationError, RuntimeError):
        return None
    return [entry for table in tables for entry in table]


def keep(key: str, forms: Sequence[type[Entry]], entries: Sequence[Entry]) -> None:
    """Keep entries under a key in place of what was kept before; where nothing can be written nothing is kept."""
    tables = tuple([entry for entry in entries if type(entry) is form] for form in forms)
    with contextlib.suppress(OSError, RuntimeError):
        place = folder()
        place.mkdir(parents=True, exist_ok=True, mode=0o700)
        content = _adapter(tuple(forms)).dump_json(tables, exclude_defaults=True)
        for old in place.glob(_OURS):
            old.unlink(missing_ok=True)
        whole_file.write(place / f"rules-{key}.json", content)


@cache
def _adapter(forms: tuple[type[Entry], ...]) -> TypeAdapter[tuple[list[Entry], ...]]:
    return TypeAdapter(tuple[tuple(list[form] for form in forms)])  # type: ignore[misc,valid-type,arg-type]
