"""The course of an interview: asking, going back, changing, contradictions, stops, leaving, resuming."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import answer_file
from advisor.answer_file import AnswerFile
from advisor.consultation.advice import Advice
from advisor.consultation.consult import Advisor
from advisor.errors import InputError
from advisor.interview.asker import Line, Paragraph
from advisor.interview.scripted import ScriptedAsker
from advisor.interview.session import run
from advisor.store import Store
from tests.interview.held import Interviews

pytestmark = pytest.mark.timeout(30)

JOINING = ["1", "1", "2 mm", "1 m", "20 C", "1", "yes"]
MENDING = ["2", "oak", "1 m", "1"]


def times_asked(interviews: Interviews, ask: str) -> int:
    return interviews.text.split("\n").count(ask)


def test_every_question_once_then_the_review_then_the_advice(interviews: Interviews) -> None:
    outcome = interviews.hold([*JOINING, ""])
    assert outcome.ended == "advised"
    assert interviews.shown == [outcome.advice]
    assert outcome.advice is not None
    assert outcome.advice.method == "glue"
    assert times_asked(interviews, "How wide is the gap?") == 1
    assert "Your answers:" in interviews.text


def test_the_advice_is_the_one_the_answer_file_gives(interviews: Interviews) -> None:
    outcome = interviews.hold([*JOINING, ""])
    content = interviews.store.load(outcome.saved_as or "")
    again = interviews.advisor.consult(content.answers, content.title).advice()
    assert outcome.advice == again


def test_questions_that_do_not_matter_are_not_asked(interviews: Interviews) -> None:
    interviews.hold([*MENDING, ""])
    assert "How wide is the gap?" not in interviews.text
    assert interviews.shown[0].method == "nail"


def test_progress_counts_down(interviews: Interviews) -> None:
    interviews.hold(JOINING)
    told = [line for line in interviews.text.split("\n") if line.startswith("Question ")]
    assert told[1] == "Question 2, about 6 more questions after it"
    assert told[5] == "Question 6, about 1 more question after it"
    assert told[6] == "Question 7, perhaps the last"


def test_nothing_is_advised_before_the_review_is_confirmed(interviews: Interviews) -> None:
    outcome = interviews.hold(JOINING)
    assert outcome.ended == "interrupted"
    assert interviews.shown == []


def test_back_asks_the_previous_question_with_its_answer(interviews: Interviews) -> None:
    outcome = interviews.hold(["1", "2", "b", "", "1/2 in", "back", "14 mm", "quit"])
    assert "Earlier answer: Oak or another hard wood. Enter keeps it." in interviews.text
    assert "Earlier answer: 1/2 in = 12.7 mm. Enter keeps it." in interviews.text
    assert interviews.saved(outcome.saved_as) == {"goal": "join", "wood": "oak", "gap": "14 mm"}


def test_back_twice_then_on_where_it_was(interviews: Interviews) -> None:
    interviews.hold(["1", "2", "1/2 in", "back", "back", "pine", "quit"])
    asked = [line for line in interviews.text.split("\n") if line.endswith("?")]
    assert asked == ["What do you want to do?", "Which wood is it?", "How wide is the gap?", "How long is the board?",
                     "How wide is the gap?", "Which wood is it?", "How long is the board?"]


def test_back_at_the_first_question_stays_there(interviews: Interviews) -> None:
    interviews.hold(["back", "quit"])
    assert "This is the first question" in interviews.text


def test_answers_that_stop_counting_are_kept_aside_and_count_again(interviews: Interviews) -> None:
    outcome = interviews.hold([*JOINING, "1", "2", "1", "1", ""])
    assert "Not needed now, kept aside: Clamps at hand; Gap; Warmth" in interviews.text
    assert "Kept aside, not used: Clamps at hand; Gap; Warmth" in interviews.text
    assert "Your earlier answer counts again: Clamps at hand; Gap; Warmth" in interviews.text
    assert outcome.advice is not None
    assert interviews.saved(outcome.saved_as)["gap"] == "2 mm"


def test_answers_kept_aside_do_not_reach_the_advice(interviews: Interviews) -> None:
    outcome = interviews.hold([*JOINING, "1", "mend", "2", "oak", ""])
    never = interviews.hold([*MENDING, ""], title="Test job")
    assert outcome.advice is not None
    assert never.advice is not None
    assert outcome.advice.method == never.advice.method == "nail"
    assert {line.fact for line in outcome.advice.trace} == {line.fact for line in never.advice.trace}


def test_back_leaves_out_what_was_set_aside(interviews: Interviews) -> None:
    interviews.hold([*JOINING, "1", "mend", "back", "quit"])
    asked = [line for line in interviews.text.split("\n") if line.endswith("?")]
    assert asked[-1] == "What will it be exposed to?"


def test_a_change_at_the_review_leads_to_new_questions(interviews: Interviews) -> None:
    outcome = interviews.hold([*MENDING, "1", "join", "3 mm", "15 C", "n", ""])
    assert outcome.ended == "advised"
    assert interviews.saved(outcome.saved_as)["clamps"] == "no"


def test_review_in_the_middle_goes_on_with_the_same_question(interviews: Interviews) -> None:
    outcome = interviews.hold(["1", "review", "", "oak", "review", "1", "mend", "quit"])
    asked = [line for line in interviews.text.split("\n") if line.endswith("?")]
    assert asked[:5] == ["What do you want to do?", "Which wood is it?", "Which wood is it?", "How wide is the gap?",
                         "What do you want to do?"]
    assert "Enter goes on with the questions." in interviews.text
    assert interviews.saved(outcome.saved_as) == {"goal": "mend", "wood": "oak"}


def test_nonsense_at_the_review_is_answered(interviews: Interviews) -> None:
    outcome = interviews.hold([*MENDING, "99", "maybe", "9" * 5000, ""])
    assert interviews.text.count("Type a number from 1 to 4, Enter, back or quit.") == 3
    assert outcome.ended == "advised"


def test_a_contradiction_is_told_at_once_and_asked_again(interviews: Interviews) -> None:
    outcome = interviews.hold(["1", "1", "120 mm", "100 mm", "", "1 m", "20 C", "1", "y", ""])
    shown = interviews.text
    assert "The gap is longer than the board." in shown
    assert "A gap of 120 mm does not fit on 100 mm." in shown
    assert "Asked again: Gap; Length." in shown
    assert shown.count("The gap is longer than the board.") == 1
    assert "The answers fit together now." in shown
    assert shown.index("The gap is longer") < shown.index("How warm is the place?")
    assert interviews.saved(outcome.saved_as)["length"] == "1 m"


def test_a_contradiction_solved_by_the_first_answer_asks_no_second(interviews: Interviews) -> None:
    interviews.hold(["1", "1", "120 mm", "100 mm", "12 mm", "quit"])
    assert times_asked(interviews, "How long is the board?") == 1
    assert "How warm is the place?" in interviews.text


def test_a_contradiction_that_stays_is_told_again_and_never_advised(interviews: Interviews) -> None:
    outcome = interviews.hold(["1", "1", "120 mm", "100 mm", "", "", "", "review", "", "quit"])
    assert interviews.text.count("The gap is longer than the board.") == 2
    assert "Enter gives the advice" not in interviews.text
    assert outcome.ended == "left"


def test_a_contradiction_made_at_the_review_is_told(interviews: Interviews) -> None:
    interviews.hold([*JOINING, "3", "150 mm", "quit"])
    assert "The gap is longer" not in interviews.text
    interviews.hold([*JOINING, "4", "1 mm", "quit"])
    assert "The gap is longer than the board." in interviews.text


def test_a_stop_goes_straight_to_the_advice(interviews: Interviews) -> None:
    outcome = interviews.hold(["3"])
    assert outcome.ended == "advised"
    assert outcome.advice is not None
    assert outcome.advice.status == "stop"
    assert "no more questions" in interviews.text
    assert "Which wood is it?" not in interviews.text


def test_a_stop_calls_no_answer_idle(interviews: Interviews) -> None:
    name = interviews.hold([*JOINING, "1", "3"]).saved_as
    assert "kept aside" not in interviews.text.casefold()
    interviews.hold([], resume=name)
    assert "7  Clamps at hand: Yes" in interviews.text


def test_coming_back_to_a_stop_shows_the_answers_first(interviews: Interviews) -> None:
    name = interviews.hold(["3"]).saved_as
    outcome = interviews.hold(["1", "join", "quit"], resume=name)
    assert "1  Goal: Something nobody may do alone" in interviews.text
    assert outcome.ended == "left"
    assert interviews.saved(name) == {"goal": "join"}
    assert len(interviews.shown) == 1


def test_dont_know_says_what_it_means(interviews: Interviews) -> None:
    outcome = interviews.hold(["1", "5", "don\u2019t know", "1 m", "unknown", "quit"])
    assert "Taken as Pine or another soft wood: Soft wood is the careful guess." in interviews.text
    assert "The other answers are tried as well" in " ".join(interviews.text.split())
    assert "Taken as 10 mm = 3/8 in: An unmeasured gap is taken as wide." in interviews.text
    assert interviews.saved(outcome.saved_as)["gap"] == "unknown"


def test_an_essential_question_says_why_it_needs_an_answer(interviews: Interviews) -> None:
    outcome = interviews.hold(["unknown", "quit"])
    assert "nothing safe can be said" in interviews.text
    assert "Look at the boards." in interviews.text
    assert outcome.saved_as is None
    assert "Nothing was answered, so nothing is kept." in interviews.text


def test_a_question_that_takes_several_answers_always_says_so(interviews: Interviews) -> None:
    interviews.hold(JOINING)
    assert interviews.text.count("Several may be true: their numbers, such as 1, 3.") == 1
    assert interviews.text.count("A number, or the first letters.") == 2


def test_help_and_why_do_not_answer(interviews: Interviews) -> None:
    outcome = interviews.hold(["1", "help", "?", "why", "quit"])
    assert "Press a nail of your thumb into it." in interviews.text
    assert "I don't know: Taken as Pine" in interviews.text
    assert "Hard wood holds nails, soft wood takes glue." in interviews.text
    assert "2 rules wait for this answer:" in interviews.text
    assert "- Soft wood takes glue." in interviews.text
    assert interviews.saved(outcome.saved_as) == {"goal": "join"}


def test_nonsense_loses_nothing_and_asks_the_same_again(interviews: Interviews) -> None:
    outcome = interviews.hold(["1", "1", "wide", "", "5 kg", "9" * 5000, "\x1b[2J", "3 mm", "quit"])
    assert times_asked(interviews, "How wide is the gap?") == 1
    assert "`5 kg` is a mass, a length is wanted" in interviews.text
    assert "Nothing was typed" in interviews.text
    assert "That is too long for an answer" in interviews.text
    assert interviews.saved(outcome.saved_as)["gap"] == "3 mm"


@pytest.mark.parametrize(("ending", "ended"), [(["quit"], "left"), ([], "interrupted")])
def test_leaving_says_how_to_go_on(interviews: Interviews, ending: list[str], ended: str) -> None:
    outcome = interviews.hold(["1", "2", *ending])
    assert outcome.ended == ended
    assert outcome.saved_as == "test-job"
    assert "advisor ask --resume test-job" in interviews.text
    assert interviews.saved("test-job") == {"goal": "join", "wood": "oak"}


def test_every_answer_is_saved_when_given(small: Advisor, tmp_path: Path) -> None:
    store = Store(tmp_path)
    seen: list[dict[str, str | list[str]]] = []
    script = iter(["1", "2", "3 mm"])

    def typed(line: Line) -> str:
        seen.extend(store.load(name).answers for name in store.names())
        try:
            return next(script)
        except StopIteration:
            raise KeyboardInterrupt from None
    run(small, asker=ScriptedAsker(typed), show_advice=lambda advice: None, store=store, title="T")
    assert seen == [{"goal": "join"}, {"goal": "join", "wood": "oak"},
                    {"goal": "join", "wood": "oak", "gap": "3 mm"}]


def test_resuming_asks_only_what_is_open(interviews: Interviews) -> None:
    name = interviews.hold(JOINING[:4]).saved_as
    outcome = interviews.hold([*JOINING[4:], ""], resume=name)
    assert "Test job: 4 answers from before." in interviews.text
    assert "How wide is the gap?" not in interviews.text
    assert outcome.saved_as == name
    assert outcome.advice is not None
    assert outcome.advice.title == "Test job"
    assert interviews.store.names() == [name]


def test_back_after_resuming_reaches_the_answers_from_before(interviews: Interviews) -> None:
    name = interviews.hold(JOINING[:4]).saved_as
    interviews.hold(["back", "2 m", "quit"], resume=name)
    assert interviews.saved(name)["length"] == "2 m"


def test_resuming_what_is_not_there_is_refused(interviews: Interviews) -> None:
    interviews.hold(JOINING[:1])
    with pytest.raises(InputError) as refused:
        interviews.hold([], resume="test-jop")
    assert refused.value.help == "did you mean `test-job`?"


def test_going_on_from_a_file_keeps_the_file_and_tells_what_does_not_fit(
        interviews: Interviews, tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text("advisor: 1\ntitle: Mine\nanswers:\n  goal: join\n  wood: beech\n  colour: red\n", "utf-8")
    before = path.read_bytes()
    outcome = interviews.hold(["oak", "quit"], answers=answer_file.read(path), title=None)
    flat = " ".join(interviews.text.split())
    assert f"{path.name}:5: `beech` is not an answer" in flat
    assert f"{path.name}:6: there is no question `colour`" in flat
    assert interviews.saved(outcome.saved_as) == {"goal": "join", "wood": "oak"}
    assert outcome.saved_as == "mine"
    assert path.read_bytes() == before


def test_a_file_whose_answers_contradict_is_put_right(interviews: Interviews) -> None:
    given: dict[str, str | list[str]] = {"goal": "join", "wood": "oak", "gap": "120 mm", "length": "100 mm"}
    outcome = interviews.hold(["12 mm", "quit"], answers=AnswerFile("Two", given))
    assert "The gap is longer than the board." in interviews.text
    assert interviews.saved(outcome.saved_as)["gap"] == "12 mm"


def test_a_goal_given_before_is_not_asked(interviews: Interviews) -> None:
    outcome = interviews.hold(["quit"], goal="mend")
    assert "What do you want to do?" not in interviews.text
    assert interviews.saved(outcome.saved_as) == {"goal": "mend"}
    with pytest.raises(InputError):
        interviews.hold([], goal="fly")


def test_a_name_is_asked_and_may_be_left_out(interviews: Interviews) -> None:
    outcome = interviews.hold(["The garden  gate", *MENDING, ""], title=None)
    assert outcome.saved_as == "the-garden-gate"
    assert outcome.advice is not None
    assert outcome.advice.title == "The garden gate"
    assert interviews.hold(["", "1", "quit"], title=None).saved_as == "untitled-job"
    assert interviews.hold(["quit"], title=None).ended == "left"


def test_a_disk_that_cannot_be_written_does_not_end_the_interview(small: Advisor, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    asker = ScriptedAsker([*MENDING, ""])
    given: list[Advice] = []
    outcome = run(small, asker=asker, show_advice=given.append, store=Store(tmp_path / "file" / "x"), title="T")
    assert outcome.ended == "advised"
    assert len(given) == 1
    assert asker.text.count("Your answers cannot be saved") == 2  # once when found, once at the end


@pytest.mark.parametrize("width", [40, 80])
def test_nothing_is_wider_than_the_terminal_and_nothing_is_cut_off(interviews: Interviews, width: int) -> None:
    interviews.hold(["1", "help", "why", "3", "unknown", "1 m", "unknown", "1,2", "no", "quit"], width=width)
    assert max(map(len, interviews.text.split("\n"))) <= width
    label = interviews.advisor.rule_base.facts["wood"].values["plywood"]
    assert label in " ".join(interviews.text.split())


def test_texts_are_shown_as_written_without_control_signs() -> None:
    asker = ScriptedAsker([])
    asker.show(Paragraph("[bold]not bold[/x] \x1b[31m <b>{}</b>"))
    assert asker.text == "[bold]not bold[/x] \\x1b[31m <b>{}</b>"


@pytest.mark.parametrize("typed", ["help", "?", "back", "why", "review", "unknown"])
def test_a_command_is_no_name_for_the_job(small: Advisor, tmp_path: Path, typed: str) -> None:
    asker = ScriptedAsker([typed, "A shelf", "1", "quit"])
    outcome = run(small, asker=asker, show_advice=lambda advice: None, store=Store(tmp_path))
    assert outcome.saved_as == "a-shelf"
    assert asker.text.count("A few words, to find it again.") == 2


def test_nothing_typed_offers_only_what_the_question_takes(interviews: Interviews) -> None:
    interviews.hold(["", "quit"])
    assert "Give an answer, or type help, back or quit." in interviews.text
    interviews.hold(["1", "", "quit"])
    assert "Give an answer, or type help, unknown or back." in interviews.text


def test_who_must_look_first_is_told_that_quitting_loses_nothing(interviews: Interviews) -> None:
    interviews.hold(["unknown", "quit"])
    assert "quit keeps what you answered" in " ".join(interviews.text.split())


@pytest.mark.parametrize(("typed", "refused"), [("3", True), ("about 3", True), ("3 to 4", True), ("3 ft", False),
                                                ("900 mm", False)])
def test_a_bare_length_after_inches_is_refused(interviews: Interviews, typed: str, refused: bool) -> None:
    outcome = interviews.hold(["1", "1", "1/2 in", typed, "quit"])
    assert (f"`{typed}` has no unit, and your other answers are in US units" in interviews.text) is refused
    assert ("length" in interviews.saved(outcome.saved_as)) is not refused


def test_a_bare_length_among_metric_answers_is_in_millimetres(interviews: Interviews) -> None:
    interviews.hold(["1", "1", "12 mm", "900", "quit"])
    assert "= 900, that is 900 mm" in interviews.text


def test_a_question_asked_again_when_all_is_answered_promises_no_more(interviews: Interviews) -> None:
    interviews.hold([*JOINING, "3", "quit"])
    assert interviews.text.count("Question 3 again") == 1
    assert "Question 3 again\n" in interviews.text


def test_a_folder_that_cannot_be_written_is_told_in_sentences(small: Advisor, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    asker = ScriptedAsker(["1", "2", "quit"], width=2000)
    outcome = run(small, asker=asker, show_advice=lambda advice: None, store=Store(tmp_path / "file" / "in"), title="T")
    assert outcome.saved_as is None
    told = [line for line in asker.lines if "cannot be saved" in line]
    assert len(told) == 2  # once when it happens, once at the end
    assert all(line.endswith("Set ADVISOR_HOME to a folder that can be written to.") for line in told)
    assert not any(" help: " in line for line in told)
