"""Files written whole or not at all, whatever comes in between: a full disk, a kill, a power cut."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

PRIVATE = 0o600
_LONGEST_STEM = 40
# What file systems say that do not offer to settle a folder, or do not let this person read it.
_NOT_OFFERED = {errno.EINVAL, errno.EACCES, errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EBADF, errno.ENOSYS}


def write(path: Path, content: bytes, *, mode: int = PRIVATE, replace: bool = True) -> None:
    """Write a file; it is on the disk, with its name, when this returns.

    Raises:
        FileExistsError: when there is one of that name and `replace` is not given.
        OSError: when it cannot be written. Either way an earlier file of that name is unharmed.
    """
    descriptor, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.stem[:_LONGEST_STEM]}.", suffix=".tmp")
    try:
        _fill(descriptor, content)
        if mode != PRIVATE:
            os.chmod(temporary, mode)
        if replace:
            os.replace(temporary, path)
        else:
            _put_where_nothing_is(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise
    _settle(path.parent)


@contextlib.contextmanager
def growing(path: Path, *, mode: int = PRIVATE) -> Iterator[BinaryIO]:
    """A file to write to bit by bit; it takes its name, in place of what had it, once all is written.

    Raises:
        OSError: when it cannot be written. Then, as after any exception meanwhile, what had the name is unharmed.
    """
    descriptor, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.stem[:_LONGEST_STEM]}.", suffix=".tmp")
    try:
        with os.fdopen(descriptor, "wb") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, mode)
        os.replace(temporary, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(temporary)
        raise
    _settle(path.parent)


def second_name(path: Path, other: Path) -> None:
    """Give the content of a file a second name, in place of what had that name.

    Raises:
        OSError: when that cannot be done; the file itself is unharmed.
    """
    with contextlib.suppress(FileNotFoundError):
        os.unlink(other)
    try:
        os.link(path, other)
    except OSError:  # a memory stick, perhaps, that knows one name for each file
        write(other, path.read_bytes())


def make_folder(folder: Path) -> None:
    """Make a folder and those above it that are missing, for its owner only, and on the disk when this returns.

    Raises:
        OSError: when that cannot be done.
    """
    missing = [place for place in (folder, *folder.parents) if not place.exists()]
    for place in reversed(missing):
        place.mkdir(mode=0o700, exist_ok=True)
        _settle(place.parent)
    if not folder.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder))


def _fill(descriptor: int, content: bytes) -> None:
    try:
        while content:
            content = content[os.write(descriptor, content):]
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _put_where_nothing_is(temporary: str, path: Path) -> None:
    try:
        os.link(temporary, path)  # fails where there is a file
    except FileExistsError:
        raise
    except OSError:
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, PRIVATE))
        try:
            os.replace(temporary, path)
        except BaseException:
            os.unlink(path)  # it is ours, and empty
            raise
    else:
        os.unlink(temporary)


def _settle(folder: Path) -> None:
    """Make the new name survive a power cut, where the system offers that for folders."""
    if sys.platform == "win32":
        return
    try:
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except OSError as error:
        if error.errno not in _NOT_OFFERED:
            raise
