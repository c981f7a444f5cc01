"""The file that a command writes its results to."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from advisor import whole_file
from advisor.errors import InputError


@contextmanager
def written_to(target: Path) -> Iterator[Callable[[str], object]]:
    """What writes text to a file that takes its name once all is written; a link is followed.

    What is no plain file (a terminal, a pipe) is written to as it is.

    Raises:
        InputError: when it cannot be written.
    """
    try:
        if target.exists() and not target.is_file():
            with target.open("w", encoding="utf-8") as device:
                yield device.write
        else:
            with whole_file.growing(target.resolve(), mode=mode_of_new_files()) as file:
                yield lambda text: file.write(text.encode("utf-8"))
    except OSError as error:
        raise _not_written(target, error) from error


def mode_of_new_files() -> int:
    """The permissions that a person's new files get."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def refuse_existing(target: Path, force: bool, example: str) -> None:
    """Raises InputError when the file is there and may not be replaced; told before any work is done."""
    if target.is_dir():
        raise InputError("this is a folder", str(target), f"name a file in it, such as {example}")
    if not force and os.path.lexists(target):
        raise InputError("there is a file of that name already", str(target), "take another name, or add --force")


def write_new(target: Path, text: str, *, force: bool, example: str) -> None:
    """Write a file whole or not at all.

    Raises:
        InputError: when it cannot be written, or is there already and `force` is not given.
    """
    refuse_existing(target, force, example)
    try:
        whole_file.write(target, text.encode("utf-8"), mode=mode_of_new_files(), replace=force)
    except FileExistsError:  # it has come meanwhile
        refuse_existing(target, False, example)
        raise
    except OSError as error:
        raise _not_written(target, error) from error


def _not_written(target: Path, error: OSError) -> InputError:
    return InputError(f"cannot write: {error.strerror or error}", str(target),
                      "name a file in a folder you may write to")
