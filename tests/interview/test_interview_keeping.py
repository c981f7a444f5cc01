"""What is kept when something is wrong: another interview, damage, a full disk, rules that changed."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from advisor import answer_file
from advisor.answer_file import AnswerFile
from advisor.consultation.consult import Advisor
from advisor.errors import InputError
from advisor.interview.asker import Line
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import Outcome, run
from advisor.store import Store
from tests.interview.held import Interviews

pytestmark = pytest.mark.timeout(30)


def begun(interviews: Interviews) -> str:
    """The name of an interview that was left after two answers."""
    name = interviews.hold(["1", "2", "quit"]).saved_as
    assert name is not None
    return name


def test_a_second_interview_is_told_who_has_the_first_and_gets_a_copy(interviews: Interviews) -> None:
    name = begun(interviews)
    before = interviews.store.path(name).read_bytes()
    held = interviews.store.hold(name)
    assert held is not None
    outcome = interviews.hold(["", "3 mm", "quit"], resume=name)
    held.release()
    flat = " ".join(interviews.text.split())
    assert "This job is open in another interview, begun 2" in flat
    assert f"(process {os.getpid()} on " in flat
    assert outcome.saved_as not in (None, name)
    assert interviews.saved(outcome.saved_as) == {"goal": "join", "wood": "oak", "gap": "3 mm"}
    assert interviews.store.path(name).read_bytes() == before


@pytest.mark.parametrize("typed", [["quit"], ["what?", "quit"], []])
def test_a_second_interview_may_be_left(interviews: Interviews, typed: list[str]) -> None:
    name = begun(interviews)
    held = interviews.store.hold(name)
    assert held is not None
    outcome = interviews.hold(typed, resume=name)
    held.release()
    assert outcome.ended == "left"
    assert interviews.store.names() == [name]


def test_an_interview_holds_its_consultation_until_it_ends(small: Advisor, tmp_path: Path) -> None:
    store = Store(tmp_path)
    seen: list[bool] = []

    def typed(line: Line) -> str:
        seen.extend((tmp_path / f".{name}.lock").exists() for name in store.names())
        return "1" if len(seen) < 2 else "quit"
    run(small, asker=ScriptedAsker(typed), show_advice=lambda advice: None, store=store, title="T")
    assert seen
    assert all(seen)
    assert not list(tmp_path.glob(".*.lock"))


def test_a_wrong_goal_lets_the_consultation_go(interviews: Interviews) -> None:
    name = begun(interviews)
    with pytest.raises(InputError):
        interviews.hold([], resume=name, goal="fly")
    held = interviews.store.hold(name)
    assert held is not None
    held.release()


def test_damage_gives_way_to_the_version_before_it(interviews: Interviews) -> None:
    name = begun(interviews)
    interviews.store.path(name).write_bytes(b"\0" * 100)
    outcome = interviews.hold(["", "oak", "quit"], resume=name)
    flat = " ".join(interviews.text.split())
    assert "The version before them can: 1 answer, saved 2" in flat
    assert f"{name}.damaged" in flat
    assert outcome.saved_as == name
    assert interviews.saved(name) == {"goal": "join", "wood": "oak"}
    assert (interviews.store.folder / f"{name}.damaged").read_bytes() == b"\0" * 100


def test_damage_may_be_left_as_it_is(interviews: Interviews) -> None:
    name = begun(interviews)
    interviews.store.path(name).write_bytes(b"{")
    assert interviews.hold(["quit"], resume=name).ended == "left"
    assert interviews.store.path(name).read_bytes() == b"{"
    assert sorted(path.name for path in interviews.store.folder.iterdir()) == [f"{name}.previous", f"{name}.yaml"]


def test_damage_without_a_version_before_it_is_refused(interviews: Interviews) -> None:
    name = begun(interviews)
    interviews.store.path(name).write_bytes(b"{")
    (interviews.store.folder / f"{name}.previous").unlink()
    with pytest.raises(InputError):
        interviews.hold([], resume=name)
    assert not list(interviews.store.folder.glob(".*"))


def test_answers_that_the_rules_lost_are_told_kept_and_used_when_they_fit_again(interviews: Interviews) -> None:
    given: dict[str, str | list[str]] = {"goal": "join", "wood": "beech", "colour": "red"}
    name = interviews.hold(["quit"], answers=AnswerFile("Old rules", given)).saved_as
    assert interviews.text.count("cannot be used and is set aside") == 2
    assert interviews.store.load(name or "").set_aside == {"wood": "beech", "colour": "red"}
    interviews.hold(["oak", "quit"], resume=name)
    assert interviews.text.count("cannot be used and is set aside") == 2
    kept = interviews.store.load(name or "")
    assert (kept.answers, kept.set_aside) == ({"goal": "join", "wood": "oak"}, {"colour": "red"})
    interviews.store.save(name or "", kept.title, {"goal": "join"}, {"wood": "oak", "gap": "3 mm"})
    interviews.hold(["quit"], resume=name)
    assert "cannot be used" not in interviews.text
    assert interviews.saved(name) == {"goal": "join", "wood": "oak", "gap": "3 mm"}
    assert interviews.store.load(name or "").set_aside == {}


class FullAt:
    """A typist during whose answers the disk is full from one question to another."""

    def __init__(self, patch: pytest.MonkeyPatch, typed: list[str], full: range) -> None:
        self.patch, self.typed, self.full, self.count = patch, typed, full, -1

    def __call__(self, line: Line) -> str:
        self.count += 1
        self.patch.undo()
        if self.count in self.full:
            def no_room(descriptor: int, content: bytes) -> int:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            self.patch.setattr(os, "write", no_room)
        if self.count >= len(self.typed):
            raise EOFError
        return self.typed[self.count]


def with_full_disk(small: Advisor, store: Store, typed: list[str], full: range) -> tuple[Outcome, str]:
    with pytest.MonkeyPatch.context() as patch:
        asker = ScriptedAsker(FullAt(patch, typed, full), 2000)
        return run(small, asker=asker, show_advice=lambda advice: None, store=store, title="Test job"), asker.text


def test_a_disk_that_is_full_for_a_while_costs_no_answer(small: Advisor, tmp_path: Path) -> None:
    store = Store(tmp_path / "kept")
    outcome, text = with_full_disk(small, store, ["1", "2", "3 mm", "1 m", "quit"], range(1, 3))
    assert text.count("Your answers cannot be saved: ") == 1
    assert text.count("saving is tried again after every answer") == 1
    assert text.count("Your answers are saved again.") == 1
    assert text.index("cannot be saved") < text.index("= Oak") < text.index("saved again") < text.index("= 1 m")
    assert outcome.saved_as == "test-job"
    assert store.load("test-job").answers == {"goal": "join", "wood": "oak", "gap": "3 mm", "length": "1 m"}


def test_answers_that_could_not_be_saved_can_go_into_another_file(small: Advisor, tmp_path: Path) -> None:
    there, other = tmp_path / "there.yaml", tmp_path / "other.yaml"
    there.write_text("something else")
    (tmp_path / "file").write_text("in the way")
    typed = ["1", "2", "quit", str(tmp_path / "none" / "x.yaml"), str(there), "a\0b", str(other)]
    asker = ScriptedAsker(typed, 2000)
    run(small, asker=asker, show_advice=lambda advice: None, store=Store(tmp_path / "file" / "x"), title="T")
    assert "No such file" in asker.text
    assert "There is a file of that name already" in asker.text
    assert "cannot be the name of a file" in asker.text
    assert f"advisor ask --from {other}" in asker.text
    assert answer_file.read(other).answers == {"goal": "join", "wood": "oak"}
    assert there.read_text() == "something else"


def test_what_another_program_wrote_meanwhile_stays(small: Advisor, tmp_path: Path) -> None:
    store = Store(tmp_path)
    theirs = answer_file.written("Theirs", {"goal": "mend"})
    script = iter(["1", "2", "3 mm"])

    def typed(line: Line) -> str:
        word = next(script, None)
        if word is None:
            raise EOFError
        if word == "2":
            store.path("t").write_text(theirs)
        return word
    asker = ScriptedAsker(typed, 2000)
    outcome = run(small, asker=asker, show_advice=lambda advice: None, store=store, title="T")
    assert store.path("t").read_text() == theirs
    assert asker.text.count("Another program has changed the file of this job") == 1
    assert outcome.saved_as is not None
    assert store.load(outcome.saved_as).answers == {"goal": "join", "wood": "oak", "gap": "3 mm"}
    assert f"--resume {outcome.saved_as}" in asker.text
