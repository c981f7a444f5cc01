"""A lock on a file between programs. It ends with the process that holds it, however that one ends."""

from __future__ import annotations

import contextlib
import errno
import json
import os
import platform
import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

_TAKEN = {errno.EACCES, errno.EAGAIN, errno.EDEADLK}
_BEYOND_THE_TEXT = 1 << 20
_LONGEST = 1000


@dataclass(frozen=True)
class Holder:
    """Who has a lock, as far as it is known."""

    since: datetime | None = None
    process: int | None = None
    computer: str | None = None


class TakenError(Exception):
    """Another interview has the lock."""

    def __init__(self, holder: Holder) -> None:
        super().__init__(holder)
        self.holder = holder


class Lock:
    """A lock that is held, until it is released or the process ends."""

    def __init__(self, path: Path, descriptor: int, holder: Holder) -> None:
        self._path, self._descriptor = path, descriptor
        _ours[path] = holder

    def release(self) -> None:
        """Give the lock back; its file goes."""
        if _ours.pop(self._path, None) is not None:
            with contextlib.suppress(OSError):  # some systems keep a file that is open
                os.unlink(self._path)
            os.close(self._descriptor)


# To close a file gives up every lock that this process has on it; so a lock of our own is never looked at on the disk.
_ours: dict[Path, Holder] = {}


def take(path: Path) -> Lock | None:
    """Take the lock whose file is `path`; None where the folder offers no locks or cannot be written to.

    Raises:
        TakenError: when it is held already.
    """
    if path in _ours:
        raise TakenError(_ours[path])
    while True:
        try:
            descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError:
            return None
        try:
            if not _locked(descriptor):
                raise TakenError(_told(descriptor))
            if _still_named(path, descriptor):
                return Lock(path, descriptor, _tell(descriptor))
        except OSError:
            os.close(descriptor)
            return None
        except TakenError:
            os.close(descriptor)
            raise
        os.close(descriptor)  # its holder took the file away meanwhile


def _locked(descriptor: int) -> bool:
    try:
        if sys.platform == "win32":
            os.lseek(descriptor, _BEYOND_THE_TEXT, os.SEEK_SET)  # what is locked cannot be read by others
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.lockf(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in _TAKEN:
            return False
        raise
    return True


def _still_named(path: Path, descriptor: int) -> bool:
    try:
        return os.path.samestat(os.fstat(descriptor), path.stat())
    except FileNotFoundError:
        return False


def _tell(descriptor: int) -> Holder:
    """Write down who holds the lock; where the disk is full it is held all the same."""
    holder = Holder(datetime.now().astimezone(), os.getpid(), platform.node() or None)
    text = json.dumps({"since": holder.since, "process": holder.process, "computer": holder.computer}, default=str)
    with contextlib.suppress(OSError):
        os.ftruncate(descriptor, 0)
        os.lseek(descriptor, 0, os.SEEK_SET)
        os.write(descriptor, text.encode())
    return holder


def _told(descriptor: int) -> Holder:
    try:
        os.lseek(descriptor, 0, os.SEEK_SET)
        told = json.loads(os.read(descriptor, _LONGEST))
        return Holder(datetime.fromisoformat(told["since"]), int(told["process"]), told["computer"] or None)
    except (OSError, ValueError, TypeError, LookupError):
        return Holder()
