"""The lock on a consultation: between processes, told with its holder, gone with the process, whatever ended it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from advisor import lock

pytestmark = pytest.mark.timeout(60)

ROOT = Path(__file__).resolve().parents[1]
HOLDS = ("import sys; from pathlib import Path; from advisor import lock\n"
         "held = lock.take(Path(sys.argv[1]))\n"
         "print('held', flush=True)\n"
         "sys.stdin.readline()\n"
         "held.release()\n")


@contextmanager
def held_elsewhere(path: Path) -> Iterator[subprocess.Popen[str]]:
    child = subprocess.Popen([sys.executable, "-c", HOLDS, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                             text=True, env={**os.environ, "PYTHONPATH": str(ROOT)})
    assert child.stdout is not None
    assert child.stdout.readline() == "held\n"
    try:
        yield child
    finally:
        child.kill()
        child.communicate()


def taken(path: Path) -> lock.Lock:
    held = lock.take(path)
    assert held is not None
    return held


def test_one_process_at_a_time_and_the_holder_is_told(tmp_path: Path) -> None:
    path = tmp_path / ".cowl.lock"
    with held_elsewhere(path) as child:
        with pytest.raises(lock.TakenError) as refused:
            lock.take(path)
        holder = refused.value.holder
        assert holder.process == child.pid
        assert holder.since is not None
        assert holder.computer
        child.communicate("go\n")
        assert not path.exists()
    taken(path).release()


def test_a_kill_frees_the_lock(tmp_path: Path) -> None:
    path = tmp_path / ".cowl.lock"
    with held_elsewhere(path) as child:
        child.kill()
        child.wait()
        assert path.exists()
        taken(path).release()
        assert not path.exists()


def test_the_same_process_is_refused_too_and_does_not_lose_its_lock(tmp_path: Path) -> None:
    path = tmp_path / ".cowl.lock"
    held = taken(path)
    with pytest.raises(lock.TakenError) as refused:
        lock.take(path)
    assert refused.value.holder.process == os.getpid()
    code = ("import sys; from pathlib import Path; from advisor import lock\n"
            "try: lock.take(Path(sys.argv[1]))\nexcept lock.TakenError as error: print(error.holder.process)\n")
    told = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, timeout=30,
                          env={**os.environ, "PYTHONPATH": str(ROOT)}, check=True).stdout
    assert told == f"{os.getpid()}\n"
    held.release()
    held.release()
    taken(path).release()


def test_a_copy_of_the_process_does_not_keep_the_lock(tmp_path: Path) -> None:
    if not hasattr(os, "fork"):
        pytest.skip("no process can be copied here")
    path = tmp_path / ".cowl.lock"
    code = ("import os, sys, time; from pathlib import Path; from advisor import lock\n"
            "held = lock.take(Path(sys.argv[1]))\n"
            "if child := os.fork(): print(child, flush=True); os._exit(0)\n"
            "time.sleep(30)\n")
    child = subprocess.Popen([sys.executable, "-c", code, str(path)], stdout=subprocess.PIPE, text=True,
                             env={**os.environ, "PYTHONPATH": str(ROOT)})
    assert child.stdout is not None
    copy = int(child.stdout.readline())
    try:
        child.wait()
        taken(path).release()
    finally:
        os.kill(copy, 9)
        child.communicate()


def test_where_no_lock_can_be_written_there_is_none(tmp_path: Path) -> None:
    assert lock.take(tmp_path / "missing" / ".cowl.lock") is None


def test_a_system_without_locks_offers_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def unknown(descriptor: int) -> bool:
        raise OSError(38, "Function not implemented")
    monkeypatch.setattr(lock, "_locked", unknown)
    assert lock.take(tmp_path / ".cowl.lock") is None


@pytest.mark.parametrize("content", ["", "{", "[]", '{"since": "soon", "process": "x"}', '{"since": 3}'])
def test_a_holder_that_cannot_be_read_is_not_known(tmp_path: Path, content: str,
                                                   monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / ".cowl.lock"
    path.write_text(content)
    monkeypatch.setattr(lock, "_locked", lambda descriptor: False)
    with pytest.raises(lock.TakenError) as refused:
        lock.take(path)
    assert refused.value.holder == lock.Holder()
