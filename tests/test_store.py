"""Saved consultations: names, privacy, damage, and tricks with paths."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import pytest

from advisor import answer_file
from advisor.errors import InputError
from advisor.places import home, slug, typed_path
from advisor.store import ChangedElsewhereError, DamagedError, OpenElsewhereError, Store

pytestmark = pytest.mark.timeout(60)

ANSWERS: dict[str, str | list[str]] = {"goal": "plan_joint", "exposure": ["weather", "heat"]}


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store(tmp_path / "deep" / "consultations")


def set_age(store: Store, name: str, seconds: float) -> None:
    moment = time.time() - seconds
    os.utime(store.path(name), (moment, moment))


def test_what_is_saved_is_loaded(store: Store) -> None:
    name = store.create("Bonded cowl: part 2", ANSWERS)
    assert name == "bonded-cowl-part-2"
    loaded = store.load(name)
    assert (loaded.title, loaded.answers) == ("Bonded cowl: part 2", ANSWERS)
    store.save(name, "Cowl", {"goal": "plan_repair"})
    assert store.load(name).answers == {"goal": "plan_repair"}
    assert store.names() == [name]


def test_a_taken_name_gets_the_date_then_a_number(store: Store) -> None:
    today = date.today().isoformat()
    names = [store.create("Cowl", ANSWERS) for _ in range(4)]
    assert names == ["cowl", f"cowl-{today}", f"cowl-{today}-2", f"cowl-{today}-3"]
    assert len(store.saved()) == 4


@pytest.mark.parametrize(("title", "name"), [
    ("Wing - Flügel Ärger", "wing-flugel-arger"), ("../../etc/passwd", "etc-passwd"), ("  ", "job"),
    ("\u6f22\u5b57", "job"),
    ("CON", "job-con"), ("Dad's tank", "dads-tank"), ("a" * 90, "a" * 40),
    ("word " * 30, "word-word-word-word-word-word-word-word"),
    (".hidden", "hidden"), ("a\x00b\x1b[2J", "a-b-2j"),
])
def test_names_made_of_titles(title: str, name: str) -> None:
    assert slug(title) == name


@pytest.mark.parametrize("name", ["..", "../cowl", "/etc/passwd", "a/b", "a\\b", ".cowl", "cowl.yaml", "", "Cowl",
                                  "cowl\n", "c\x00", "a" * 81, "-cowl", "c:d"])
def test_names_with_path_tricks_are_refused(store: Store, name: str) -> None:
    store.create("Cowl", ANSWERS)
    for act in (store.load, store.delete, store.path, lambda name: store.save(name, "T", {})):
        with pytest.raises(InputError, match="cannot be the name"):
            act(name)
    assert store.names() == ["cowl"]


def test_files_and_folder_are_private(store: Store) -> None:
    if os.name == "nt":
        pytest.skip("no such modes on this system")
    before = os.umask(0)
    try:
        name = store.create("Cowl", ANSWERS)
        store.save(name, "Cowl", ANSWERS)
    finally:
        os.umask(before)
    assert stat.S_IMODE(store.path(name).stat().st_mode) == 0o600
    assert stat.S_IMODE(store.folder.stat().st_mode) == 0o700


def test_newest_and_order(store: Store) -> None:
    assert store.newest() is None
    assert store.saved() == []
    for title, age in (("One", 300), ("Two", 100), ("Three", 200)):
        set_age(store, store.create(title, ANSWERS), age)
    assert [entry.name for entry in store.saved()] == ["two", "three", "one"]
    assert store.newest() == "two"
    assert store.saved()[0].title == "Two"
    assert store.saved()[0].answered == 2


def test_a_damaged_file_is_reported_with_its_path_and_stays(store: Store) -> None:
    set_age(store, store.create("Whole", ANSWERS), 100)
    damaged = store.folder / "broken.yaml"
    damaged.write_bytes(b"advisor: 1\nansw")
    entry = store.saved()[0]
    assert entry.name == "broken"
    assert str(damaged) in (entry.fault or "")
    assert store.newest() == "whole"
    with pytest.raises(InputError) as caught:
        store.load("broken")
    assert str(damaged) in (caught.value.where or "")
    assert damaged.read_bytes() == b"advisor: 1\nansw"
    assert store.create("Broken", ANSWERS) != "broken"


def test_deleting(store: Store) -> None:
    store.create("Cowl", ANSWERS)
    store.delete("cowl")
    assert store.names() == []
    for act in (store.delete, store.load):
        with pytest.raises(InputError, match="no saved consultation"):
            act("cowl")


def test_a_name_that_is_not_there_gets_a_near_match(store: Store) -> None:
    store.create("Cowl", ANSWERS)
    with pytest.raises(InputError) as caught:
        store.load("cowll")
    assert caught.value.help == "did you mean `cowl`?"


def test_a_failed_first_save_leaves_no_empty_file(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*given: object) -> None:
        raise OSError(28, "No space left on device")
    monkeypatch.setattr(os, "replace", full)
    monkeypatch.setattr(os, "link", full)
    with pytest.raises(InputError):
        store.create("Cowl", ANSWERS)
    assert list(store.folder.iterdir()) == []


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(InputError) as caught:
        Store(tmp_path / "file" / "consultations").create("Cowl", ANSWERS)
    assert "ADVISOR_HOME" in (caught.value.help or "")


def test_a_folder_that_cannot_be_read_is_not_taken_for_empty(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    for act in (Store(tmp_path / "file").names, Store(tmp_path / "file" / "in").saved):
        with pytest.raises(InputError, match="cannot be read") as caught:
            act()
        assert "ADVISOR_HOME" in (caught.value.help or "")
    assert Store(tmp_path / "none").names() == []


def test_leftovers_of_old_savings_are_swept(store: Store) -> None:
    store.create("Cowl", ANSWERS)
    old, fresh = store.folder / ".cowl.a.tmp", store.folder / ".cowl.b.tmp"
    for path in (old, fresh):
        path.write_text("half")
    os.utime(old, (0, 0))
    store.create("Other", ANSWERS)
    assert not old.exists()
    assert fresh.exists()
    assert store.names() == ["cowl", "other"]


def test_where_consultations_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ADVISOR_HOME", str(tmp_path))
    assert home() == tmp_path / "consultations"
    assert Store().folder == home()
    monkeypatch.delenv("ADVISOR_HOME")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    assert home().name == "consultations"
    assert "advisor" in home().parts


def test_a_home_that_the_system_does_not_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("ADVISOR_HOME", raising=False)
    monkeypatch.delenv("XDG_STATE_HOME", raising=False)
    monkeypatch.setattr(os.path, "expanduser", lambda path: path)  # as for a user that the system does not know
    for act in (lambda: Store().create("Cowl", ANSWERS), lambda: Store().saved()):
        with pytest.raises(InputError, match="no home folder") as caught:
            act()
        assert "ADVISOR_HOME" in (caught.value.help or "")
    assert list(tmp_path.iterdir()) == []


def test_a_home_chosen_by_a_person_that_is_not_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ADVISOR_HOME", "~nobody-at-all/kept")
    with pytest.raises(InputError, match="no home folder"):
        Store().create("Cowl", ANSWERS)
    assert list(tmp_path.iterdir()) == []


def test_a_relative_home_is_told_in_full(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ADVISOR_HOME", "here")
    assert home() == tmp_path / "here" / "consultations"


def test_files_as_people_type_them(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", "/home/somebody")
    assert typed_path("~/sheet.html") == Path("/home/somebody/sheet.html") or os.name == "nt"
    assert typed_path("~nobody-at-all/x") == Path("~nobody-at-all/x")
    with pytest.raises(InputError):
        typed_path("a\0b")


def test_the_version_before_is_kept(store: Store) -> None:
    name = store.create("Cowl", {"goal": "one"})
    previous = store.folder / "cowl.previous"
    assert not previous.exists()
    for earlier, now in (("one", "two"), ("two", "three")):
        store.save(name, "Cowl", {"goal": now})
        assert answer_file.read(previous).answers == {"goal": earlier}
        assert stat.S_IMODE(previous.stat().st_mode) == 0o600 or os.name == "nt"
    assert store.names() == [name]


def test_where_a_file_has_one_name_only_a_copy_is_kept(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_links(one: object, other: object) -> None:
        raise PermissionError(1, "Operation not permitted")
    monkeypatch.setattr(os, "link", no_links)
    name = store.create("Cowl", {"goal": "one"})
    assert store.create("Cowl", {"goal": "other"}) != name
    store.save(name, "Cowl", {"goal": "two"})
    assert answer_file.read(store.folder / "cowl.previous").answers == {"goal": "one"}
    assert store.load(name).answers == {"goal": "two"}


@pytest.mark.parametrize("damage", [b"", b"advisor: 1\nansw", b"\0" * 300, b"advisor: 1\nanswers:\n  goal: [[x]]\n"])
def test_a_damaged_file_gives_way_to_the_version_before_it(store: Store, damage: bytes) -> None:
    name = store.create("Cowl", {"goal": "one"})
    for _ in range(2):
        store.save(name, "Cowl", {"goal": "two"})
    store.path(name).write_bytes(damage)
    with pytest.raises(DamagedError) as caught:
        Store(store.folder).load(name)
    assert caught.value.earlier.answers == {"goal": "two"}
    assert "--resume cowl" in (caught.value.help or "")
    aside = store.restore(name)
    assert (aside.name, aside.read_bytes()) == ("cowl.damaged", damage)
    assert store.load(name).answers == {"goal": "two"}
    store.save(name, "Cowl", {"goal": "three"})
    store.path(name).write_bytes(b"again")
    assert store.restore(name).name == "cowl.damaged-2"
    assert aside.read_bytes() == damage


def test_a_damaged_file_without_a_good_version_before_it_is_only_told(store: Store) -> None:
    name = store.create("Cowl", {"goal": "one"})
    store.save(name, "Cowl", {"goal": "two"})
    for path in (store.path(name), store.folder / "cowl.previous"):
        path.write_bytes(b"gone")
    with pytest.raises(InputError) as caught:
        store.load(name)
    assert not isinstance(caught.value, DamagedError)


def test_a_file_of_a_later_program_is_no_damage(store: Store) -> None:
    name = store.create("Cowl", {"goal": "one"})
    store.save(name, "Cowl", {"goal": "two"})
    later = b"advisor: 2\ntitle: Cowl\nanswers: {}\nnewer: yes\n"
    store.path(name).write_bytes(later)
    with pytest.raises(answer_file.VersionError, match="a later program"):
        store.load(name)
    assert store.path(name).read_bytes() == later


def test_a_file_changed_by_another_program_is_not_overwritten(store: Store) -> None:
    name = store.create("Cowl", {"goal": "one"})
    other = Store(store.folder)
    other.load(name)
    other.save(name, "Cowl", {"goal": "theirs"})
    with pytest.raises(ChangedElsewhereError):
        store.save(name, "Cowl", {"goal": "ours"})
    assert store.load(name).answers == {"goal": "theirs"}
    store.path(name).unlink()
    store.save(name, "Cowl", {"goal": "ours"})
    assert store.load(name).answers == {"goal": "ours"}


def test_deleting_leaves_nothing_of_it(store: Store) -> None:
    kept = store.create("Cowl two", ANSWERS)
    name = store.create("Cowl", ANSWERS)
    for _ in range(2):
        store.save(name, "Cowl", ANSWERS)
    store.path(name).write_bytes(b"")
    store.restore(name)
    held = store.hold(name)
    assert held is not None
    with pytest.raises(OpenElsewhereError):
        store.delete(name)
    held.release()
    store.delete(name)
    assert [path.name for path in store.folder.iterdir()] == [f"{kept}.yaml"]


def test_answers_set_aside_are_kept_beside_the_others(store: Store) -> None:
    name = store.create("Cowl", {"goal": "one"}, {"colour": ["red", "blue"]})
    assert store.load(name).set_aside == {"colour": ["red", "blue"]}
    assert store.load(name).answers == {"goal": "one"}


def test_a_save_cut_short_by_a_kill_leaves_a_whole_file(store: Store) -> None:
    store.create("Cowl", {"goal": "plan_joint"})
    code = ("import sys; from pathlib import Path; from advisor.store import Store\n"
            "store = Store(Path(sys.argv[1]))\n"
            "print('on', flush=True)\n"
            "for n in range(10**6): store.save('cowl', 'Cowl', {'goal': 'plan_joint', 'length': f'{n} mm'})\n")
    root = Path(__file__).resolve().parents[1]
    for delay in (0.01, 0.03, 0.05):
        child = subprocess.Popen([sys.executable, "-c", code, str(store.folder)], stdout=subprocess.PIPE,
                                 env={**os.environ, "PYTHONPATH": str(root)})
        with child:
            assert child.stdout is not None
            child.stdout.readline()
            time.sleep(delay)
            child.kill()
        assert store.load("cowl").answers["goal"] == "plan_joint"
