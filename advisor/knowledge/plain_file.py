"""The content of files that others hand over: ordinary files of a bounded size, read without ever waiting."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from advisor.errors import InputError

MOST_BYTES = 500_000
"""Of a file written by hand."""
_FLAGS = os.O_RDONLY | sum(getattr(os, name, 0) for name in ("O_NONBLOCK", "O_NOCTTY", "O_BINARY"))


def content_of(path: Path | str, shown: str, most_bytes: int) -> bytes:
    """All of a file; `shown` names it in messages.

    Raises:
        InputError: when there is none, when it is a pipe, a device or a folder, or larger than `most_bytes`.
    """
    try:
        with os.fdopen(os.open(path, _FLAGS), "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise InputError("this is not an ordinary file", shown, "save it as a file, and name that")
            content = file.read(most_bytes + 1) or b""
    except OSError as error:
        raise InputError(f"cannot be read: {error.strerror or error}", shown,
                         "look whether the name is right and the file may be read") from error
    if len(content) > most_bytes:
        raise InputError(f"the file is larger than {most_bytes // 1000} kB", shown,
                         "what is read here is a few kilobytes of text")
    return content
