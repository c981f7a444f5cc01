"""What is typed wrongly: commands, answers of an interview, names."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import partial
from pathlib import Path
from unittest.mock import patch

from advisor import batch, places
from advisor.cli import main
from advisor.commands import ask, output
from advisor.consultation.answers import read_answer, read_answers
from advisor.interview import reading
from advisor.interview.scripted import ScriptedAsker
from tests.messages.causes import Cause
from tests.messages.in_files import rules

_CASE = str(Path(__file__).parents[2] / "scenarios" / "abs-trim.yaml")
_COMMANDS = (
    ("an option that is none", "advise x --evil"),
    ("a depth that is no number", "advise x --explain y --depth z"),
    ("a count that is no number", "audit --cases none"),
    ("a command that is none", "advize x"),
    ("an interview without a terminal", "ask"),
    ("a computation that is none", "compute weigh"),
    ("a computation on a table", "compute glass_needed"),
    ("an input that is not `name=value`", "compute ply_thickness areal"),
    ("an input twice", "compute ply_thickness areal_mass=450g/m2 areal_mass=450g/m2"),
    ("temperatures in the wrong order for a formula", "compute activation_energy_for_doubling "
     "lower_temperature=20C upper_temperature=20C"),
    ("a word where yes or no belongs", "compute knock_down sustained_applies=perhaps"),
    ("a word that a computation does not know", "compute krenchel_modulus architecture=knitted"),
    ("an input that a computation has not", "compute ply_thickness colour=red"),
    ("an input that is missing", "compute ply_thickness areal_mass=450g/m2"),
    ("words that no line of the advice holds", f"advise {_CASE} --explain nowhere-to-be-found"),
    ("a method that was not up for choice", f"advise {_CASE} --why-not nowhere-to-be-found"),
    ("an answer varied that does not matter", f"vary {_CASE} --question evil"),
    ("words that no rule holds", "rule nowhere-to-be-found"),
    ("a saved consultation shown without its name", "saved show"),
    ("a path for the name of a saved consultation", "saved show ../x"),
    ("a saved consultation that is none", "saved show nothing"),
)
_ANSWERS: tuple[tuple[str, str, str | list[str]], ...] = (
    ("a question that is none", "evil", "x"),
    ("an answer that is empty", "goal", " "),
    ("an answer of far too many words", "exposure", ["weather"] * 31),
    ("two numbers where one is wanted", "gap_max", ["1 mm", "2 mm"]),
    ("a number that cannot be read", "gap_max", "wide"),
    ("`none` beside something", "duty", ["none_of_these", "seat_belt"]),
    ("two answers where one is wanted", "goal", ["plan_joint", "plan_repair"]),
    ("an answer that is none", "goal", "nowhere"),
)


def _answered(name: str, given: str | list[str], folder: Path) -> object:
    return read_answer(rules(), name, given, "job.yaml:1")


def _typed(question: str, text: str, folder: Path) -> object:
    asked = rules().questions[question]
    return reading.answer_of(rules(), asked, reading.choices_of(rules(), asked), text, "us")


def _needed(provoked: Callable[[Path], object], folder: Path) -> object:
    """With a question that does not say what `I don't know` means; the program's own all do."""
    needed = rules().questions["goal"].model_copy(update={"dont_know": None})
    with patch.dict(rules().questions, {"goal": needed}):
        return provoked(folder)


def _record_and_file(folder: Path) -> object:
    with patch.object(ask, "open_asker", lambda plain: ScriptedAsker([])):
        return main(["ask", "--record", "x", "--from", "y"])


def _incomplete(folder: Path) -> object:
    path = folder / "job.yaml"
    path.write_text("advisor: 1\nanswers: {goal: plan_joint}\n", encoding="utf-8")
    return main(["advise", str(path)])


def _existing(folder: Path) -> None:
    (folder / "sheet.html").touch()
    output.refuse_existing(folder / "sheet.html", False, "sheet.html")


def _written_nowhere(folder: Path) -> object:
    with output.written_to(folder / "none" / "advice.txt") as write:
        return write("x")


def _folder_that_cannot_be_read(folder: Path) -> object:
    with patch.object(os, "listdir", side_effect=PermissionError(13, "Permission denied")):
        return batch.answer_files([str(folder)])


def _home(environment: dict[str, str], folder: Path) -> object:
    with patch.dict(os.environ, environment), patch.object(Path, "expanduser", side_effect=RuntimeError("no home")):
        return places.home()


def _home_beside(folder: Path) -> object:
    with patch.dict(os.environ, {places.HOME_VARIABLE: "", "XDG_STATE_HOME": "", "HOME": ""}), \
            patch("platformdirs.user_state_path", lambda *names, **options: Path("nowhere")):
        return places.home()


def _run(line: str, folder: Path) -> object:
    return main(line.split())


_Provoked = Callable[[Path], object]
_OTHERS: tuple[tuple[str, _Provoked], ...] = (
    ("several answers that are none", lambda folder: read_answers(rules(), {"evil": "x", "goal": "y"})),
    ("nothing typed for an answer", partial(_typed, "goal", "")),
    ("far too much typed for an answer", partial(_typed, "goal", "x" * 400)),
    ("no answer where one is needed", partial(_needed, partial(_answered, "goal", "unknown"))),
    ("`I don't know` typed where an answer is needed", partial(_needed, partial(_typed, "goal", "unknown"))),
    ("a bare number beside inches", partial(_typed, "gap_max", "2")),
    ("`I don't know` beside other answers",
     lambda folder: reading.chosen("1, 2", (reading.Choice("a", "A"), reading.Choice("unknown", "?")), True)),
    ("two choices where one is wanted", partial(_typed, "goal", "1 2")),
    ("a number beyond the choices", partial(_typed, "goal", "99")),
    ("words that fit several choices",
     lambda folder: reading.chosen("st", (reading.Choice("a", "Steel"), reading.Choice("b", "Stone")), False)),
    ("words that fit no choice", partial(_typed, "goal", "qqq")),
    ("a record together with an answer file", _record_and_file),
    ("answers that do not suffice", _incomplete),
    ("a folder for the name of a sheet", lambda folder: output.refuse_existing(folder, True, "sheet.html")),
    ("a sheet that is there already", _existing),
    ("a sheet written where there is no folder",
     lambda folder: output.write_new(folder / "none" / "sheet.html", "x", force=False, example="sheet.html")),
    ("advice written where there is no folder", _written_nowhere),
    ("a folder without answer files", lambda folder: batch.answer_files([str(folder)])),
    ("a folder that may not be looked into", _folder_that_cannot_be_read),
    ("a home folder that stands for nothing", partial(_home, {places.HOME_VARIABLE: "~nobody"})),
    ("a system without home folders", _home_beside),
    ("a file name with a zero byte", lambda folder: places.typed_path("a\0b")),
)
CAUSES = [
    *(Cause(said, partial(_run, line)) for said, line in _COMMANDS),
    *(Cause(said, partial(_answered, name, given)) for said, name, given in _ANSWERS),
    *(Cause(said, provoke) for said, provoke in _OTHERS),
]
