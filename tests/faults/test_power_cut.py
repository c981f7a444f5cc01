"""A power cut at every moment of a save: the old answers or the new can be read, and the new ones once it returned."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from advisor import whole_file
from advisor.errors import InputError
from advisor.store import Store
from tests.faults.power import Recorded, states

OLD: dict[str, str] = {"goal": "plan_joint"}
NEW: dict[str, str] = {"goal": "plan_joint", "gap_max": "14 mm"}
Found = list[tuple[int, bool, "dict[str, str | list[str]] | None"]]


def found_after_cuts(tmp_path: Path, patch: pytest.MonkeyPatch, *, before: int, links: bool = True) -> Found:
    """Cut the power after each step of the save that follows `before` saves; the answers found in each state."""
    folder = tmp_path / "kept"
    store = Store(folder)
    for number in range(before):
        if number == 0:
            store.create("Cowl", OLD)
        else:
            store.save("cowl", "Cowl", OLD)
    folder.mkdir(exist_ok=True)
    recorded, there = Recorded(folder), {path.name: path.read_bytes() for path in folder.iterdir()}
    with patch.context() as patched:
        if not links:
            patched.setattr(os, "link", no_links)
        recorded.watch(patched)
        if before:
            store.save("cowl", "Cowl", NEW)
        else:
            store.create("Cowl", NEW)
    found: Found = []
    for done in range(len(recorded.steps) + 1):
        for number, state in enumerate(states(there, recorded, done)):
            place = tmp_path / f"{done}-{number}"
            place.mkdir()
            for name, content in state.items():
                (place / name).write_bytes(content)
            found.append((done, done == len(recorded.steps), answers_in(place)))
    return found


def no_links(one: object, other: object) -> None:
    raise PermissionError(1, "Operation not permitted")


def answers_in(folder: Path) -> dict[str, str | list[str]] | None:
    try:
        return Store(folder).load("cowl").answers
    except InputError:
        return None


@pytest.mark.parametrize("links", [True, False])
@pytest.mark.parametrize("before", [1, 2, 3])
def test_old_or_new_answers_whenever_the_power_goes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, before: int,
                                                    links: bool) -> None:
    found = found_after_cuts(tmp_path, monkeypatch, before=before, links=links)
    assert len(found) > 30
    assert all(answers in (OLD, NEW) for _, _, answers in found)
    assert all(answers == NEW for _, returned, answers in found if returned)
    assert any(answers == OLD for _, _, answers in found)


def test_a_first_save_is_there_once_it_returned(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = found_after_cuts(tmp_path, monkeypatch, before=0)
    assert all(answers == NEW for _, returned, answers in found if returned)
    assert all(answers in (None, NEW) for _, _, answers in found)


def test_these_cuts_find_a_save_that_settles_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same cuts on a save that forgets to settle the file: torn answers must come to light."""
    def careless(descriptor: int, content: bytes) -> None:
        os.write(descriptor, content)
        os.close(descriptor)
    monkeypatch.setattr(whole_file, "_fill", careless)
    found = found_after_cuts(tmp_path, monkeypatch, before=1)
    assert any(answers not in (OLD, NEW) for _, _, answers in found)
