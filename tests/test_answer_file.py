"""Answer files: what is read back is what was written, and whatever is wrong is named with its line."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from advisor import answer_file
from advisor.errors import InputError
from advisor.knowledge.yaml_text import Block, read_text

pytestmark = pytest.mark.timeout(60)

WHOLE = """\
advisor: 1
title: Bonded cowl
story: >
  An invented case
  on two lines.
answers:
  goal: plan_joint
  gap_max: 14 mm
  exposure: [weather, heat]
  clamps: no
  when: 12:30
expect:
  method: bond
"""


def refused(text: str) -> InputError:
    with pytest.raises(InputError) as caught:
        answer_file.parse(text, "job.yaml")
    return caught.value


def test_everything_is_read_as_text_with_its_place(tmp_path: Path) -> None:
    path = tmp_path / "cowl.yaml"
    path.write_text(WHOLE, encoding="utf-8")
    read = answer_file.read(path)
    assert read.title == "Bonded cowl"
    assert read.story == "An invented case on two lines."
    assert read.answers == {"goal": "plan_joint", "gap_max": "14 mm", "exposure": ["weather", "heat"],
                            "clamps": "no", "when": "12:30"}
    assert read.places["gap_max"] == f"{path}:8"
    assert read.expect == {"method": "bond"}


def test_title_story_and_expect_may_be_left_out() -> None:
    read = answer_file.parse("advisor: 1\nanswers: {}\n", "job.yaml")
    assert (read.title, read.answers, read.story, read.expect) == ("Untitled job", {}, None, None)


@pytest.mark.parametrize(("text", "where", "says", "helps"), [
    ("advisor: 1\nanswer: {goal: x}\n", "job.yaml:2", "has no `answer`", "did you mean `answers`?"),
    ("advisor: 1\nanswers: {}\ngap_max: 14 mm\n", "job.yaml:3", "has no `gap_max`", "indented below `answers:`"),
    ("title: T\nanswers: {}\n", "job.yaml:1", "`advisor: 1` is missing", "first line"),
    ("title: T\nadvisor: 2\nanswers: {}\n", "job.yaml:2", "of version 2, and only up to version 1", "later program"),
    ("advisor: [1]\nanswers: {}\n", "job.yaml:1", "a list is no version", "`advisor: 1`"),
    ("advisor: one\nanswers: {}\n", "job.yaml:1", "`one` is no version", "`advisor: 1`"),
    ("advisor: 0\nanswers: {}\n", "job.yaml:1", "`0` is no version", "`advisor: 1`"),
    ("advisor: 1\nanswers: {}\nset_aside: [a]\n", "job.yaml:3", "`set_aside` must be lines", "`set_aside: {}`"),
    ("advisor: 1\n", "job.yaml:1", "`answers:` is missing", "a line"),
    ("advisor: 1\nanswers:\n", "job.yaml:2", "`answers` must be lines", "`answers: {}`"),
    ("advisor: 1\nanswers: [goal]\n", "job.yaml:2", "`answers` must be lines", "indent"),
    ("advisor: 1\nanswers:\n  a: b\n  gap: {wide: 14 mm}\n", "job.yaml:4", "the answer to `gap` must be", "14 mm"),
    ("advisor: 1\nanswers:\n  gap: [[a]]\n", "job.yaml:3", "the answer to `gap` must be", "for instance"),
    ("advisor: 1\nanswers:\n  a: b\n  a: c\n", "job.yaml:4", "duplicate key `a`", "line 3"),
    ("advisor: 1\ntitle: [a]\nanswers: {}\n", "job.yaml:2", "`title` must be a text", None),
    ("advisor: 1\nanswers: {}\nexpect: bond\n", "job.yaml:3", "`expect` must be lines", None),
    ("advisor: 1\nanswers: {}\nstory: [a]\n", "job.yaml:3", "`story` must be a text", None),
    ('advisor: 1\ntitle: "a\\e[2J"\nanswers: {}\n', "job.yaml:2", "hidden sign `\\x1b`", "steer a terminal"),
    (f"advisor: 1\ntitle: {'x' * 121}\nanswers: {{}}\n", "job.yaml:2", "longer than 120", None),
    ("advisor: 1\nanswers: {a: &b c, d: *b}\n", "job.yaml:2", "anchors", None),
    ("advisor: 1\nanswers: {a: !!python/name:os.system x}\n", "job.yaml:2", "tag", None),
    ("advisor: 1\n answers: {}\n", "job.yaml:2", "not readable as YAML", "indentation"),
    ("", "job.yaml:1", "not an answer file", "`advisor: 1`"),
    ("- goal\n", "job.yaml:1", "not an answer file", "`advisor: 1`"),
])
def test_what_is_wrong_is_named_with_its_line(text: str, where: str, says: str, helps: str | None) -> None:
    error = refused(text)
    assert error.where == where
    assert says in error.what
    assert helps is None or helps in (error.help or "")


def test_an_older_file_is_brought_up_to_date_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    def first(data: Block) -> None:
        data["answers"].put("gap", data["answers"].pop("gap_max"), data["answers"].lines["gap_max"])

    def second(data: Block) -> None:
        data.put("story", "told", data.line)
    monkeypatch.setattr(answer_file, "FORMAT", 3)
    monkeypatch.setattr(answer_file, "STEPS", {1: first, 2: second})
    read = answer_file.parse("advisor: 1\nanswers:\n  gap_max: 14 mm\n", "job.yaml")
    assert (read.answers, read.story, read.places) == ({"gap": "14 mm"}, "told", {"gap": "job.yaml:3"})
    assert answer_file.parse("advisor: 3\nanswers: {}\n", "job.yaml").story is None
    with pytest.raises(answer_file.VersionError, match="of version 4, and only up to version 3"):
        answer_file.parse("advisor: 4\nanswers: {}\nmore: yes\n", "job.yaml")


def test_each_older_version_has_its_step() -> None:
    assert set(answer_file.STEPS) == set(range(1, answer_file.FORMAT))


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    (tmp_path / "latin.yaml").write_bytes(b"advisor: 1\ntitle: caf\xe9\n")
    for name, says in (("none.yaml", "No such file"), ("latin.yaml", "not UTF-8"), ("", "cannot be read")):
        with pytest.raises(InputError) as caught:
            answer_file.read(tmp_path / name)
        assert says in str(caught.value)
        assert str(tmp_path / name) in (caught.value.where or "")


# Hidden signs are refused when read: see tests/hostile.
TEXTS = st.text(st.characters(exclude_categories=["Cc", "Cf", "Cs", "Zl", "Zp"], include_characters="\n\t"),
                min_size=1, max_size=40)
TRICKS = st.sampled_from(["no", "yes", "null", "~", "1", "1_000", "12:30", "010", "1e3", "2024-01-01", "- a",
                          "a: b", "a #b", "'", '"', "&a", "*a", "!a", "%a", "@a", "{a", "[a", "|", ">", "?", "=", "<<",
                          " a ", "a\nb", "1/2 in"])
WORDS = st.one_of(TEXTS, TRICKS)


@given(st.dictionaries(WORDS, st.one_of(WORDS, st.lists(WORDS, max_size=4)), max_size=5))
def test_any_answers_are_read_back_as_written(answers: dict[str, str | list[str]]) -> None:
    assert answer_file.parse(answer_file.written("T", answers), "job.yaml").answers == answers


@given(WORDS)
def test_any_text_is_read_back_by_the_rules_reader(word: str) -> None:
    data, problems = read_text(answer_file.written("T", {"a": [word, word]}), "job.yaml")
    assert not problems
    assert data["answers"]["a"] == [word, word]


def test_other_readers_see_texts_too() -> None:
    loaded = yaml.safe_load(answer_file.written("12:30", {"clamps": "no", "count": "3", "gap": "14 mm"}))
    assert loaded == {"advisor": 1, "title": "12:30", "answers": {"clamps": "no", "count": "3", "gap": "14 mm"}}


def test_a_written_file_is_plain_and_private(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    answer_file.write(path, answer_file.written("Cowl", {"gap_max": "14 mm", "exposure": ("weather", "heat")}))
    assert path.read_text(encoding="utf-8") == (
        "advisor: 1\ntitle: Cowl\nanswers:\n  gap_max: 14 mm\n  exposure:\n  - weather\n  - heat\n")
    assert os.name == "nt" or stat.S_IMODE(path.stat().st_mode) == 0o600


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failed_write_leaves_the_earlier_file_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
                                                      step: str) -> None:
    path = tmp_path / "job.yaml"
    answer_file.write(path, "before")
    before = path.read_bytes()

    def full(*given: object) -> None:
        raise OSError(28, "No space left on device")
    monkeypatch.setattr(os, step, full)
    with pytest.raises(InputError, match="No space left"):
        answer_file.write(path, "after")
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        answer_file.write(tmp_path / "none" / "job.yaml", "")
    assert "No such file" in caught.value.what
