"""Whatever call fails in a save, the old answers or the new can be read, and no save is claimed that was none."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from advisor import whole_file
from advisor.errors import InputError
from advisor.store import Store
from tests.faults.calls import NEW, WAYS, Fault, all_tried, failing, tried


def test_a_full_disk_and_a_kill_at_every_call_are_survived(tmp_path: Path) -> None:
    results = list(all_tried(tmp_path, [errno.ENOSPC]))
    assert len(results) > 100
    assert [wrong for wrong in results if wrong] == []


def test_these_faults_find_a_save_in_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A careless save that writes over the old file is found out."""
    def careless(path: Path, content: bytes, **more: object) -> None:
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.write(descriptor, content)
        os.close(descriptor)
    monkeypatch.setattr(whole_file, "write", careless)
    monkeypatch.setattr(whole_file, "second_name", lambda path, other: None)
    wrong = []
    for at in range(1, 6):
        (tmp_path / str(at)).mkdir()
        wrong.append(tried(WAYS[1], Fault(at, errno.ENOSPC, True), tmp_path / str(at))[1])
    assert any(wrong)


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS])
def test_a_failed_save_leaves_no_half_file_behind(tmp_path: Path, number: int) -> None:
    store = Store(tmp_path)
    store.create("Cowl", NEW)
    for call in range(1, 9):
        with failing(Fault(call, number, False)):
            try:
                store.save("cowl", "Cowl", NEW)
            except InputError as error:
                assert os.strerror(number) in error.what
        assert [path.name for path in tmp_path.iterdir() if path.suffix == ".tmp"] == []


def test_new_folders_are_settled_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    settled: list[Path] = []
    monkeypatch.setattr(whole_file, "_settle", settled.append)
    Store(tmp_path / "a" / "b").create("Cowl", NEW)
    assert settled == [tmp_path, tmp_path / "a", tmp_path / "a" / "b"]
