"""What goes wrong while the program works: saved consultations, contradictions, limits of the engine, processes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

from advisor import whole_file
from advisor.commands import desk
from advisor.consultation.consult import Advisor, Consultation
from advisor.consultation.vary import vary
from advisor.crew import Crew, Lost
from advisor.engine.compile import compile_rules
from advisor.engine.limits import MOST_RULES, engine_problems
from advisor.knowledge.load import load_rule_base
from advisor.store import Store
from tests.messages.causes import Cause
from tests.small_rules import write_rules

_FULL = OSError(28, "No space left on device")
_CONTRADICTION = """\
- rule: way.evil
  says: A plate has no wide gap.
  when: {part: plate, wide: yes}
  then:
    - send_back: [part, gap]
  because: It lies flat.
  sources: [common-practice]
"""


def _contradicting(folder: Path) -> Consultation:
    rules = write_rules(folder)
    with (rules / "topics/way/rules.yaml").open("a", encoding="utf-8") as file:
        file.write(_CONTRADICTION)
    return Advisor.from_folder(rules).consult({"part": "plate", "marks": "red", "gap": "9 mm"})


def _many_alternatives(folder: Path) -> object:
    rule_base = load_rule_base(write_rules(folder))
    rule = rule_base.rules["way.glue"]
    test = rule.when.all[0].model_copy(update={"values": ("plate", "tube") * 40})
    spoiled = rule.model_copy(update={"when": rule.when.model_copy(update={"all": (test,)})})
    return compile_rules(replace(rule_base, rules={**rule_base.rules, "way.glue": spoiled}))


def _beyond_the_engine(folder: Path) -> object:
    program = compile_rules(load_rule_base(write_rules(folder)))["pick"]
    rule = program.rules[0]
    return engine_problems(replace(program, rules=(replace(rule, groups=rule.groups * 40), replace(rule, groups=()),
                                                   *(rule,) * MOST_RULES)))


def _saved(folder: Path) -> tuple[Store, str]:
    store = Store(folder / "saved")
    return store, store.create("Job", {"goal": "plan_joint"})


def _damaged(folder: Path) -> object:
    store, name = _saved(folder)
    store.save(name, "Job", {"goal": "plan_repair"})
    store.path(name).write_text("[", encoding="utf-8")
    return store.load(name)


def _changed(folder: Path) -> None:
    store, name = _saved(folder)
    store.path(name).write_text("advisor: 1\nanswers: {}\n", encoding="utf-8")
    store.save(name, "Job", {})


def _open_elsewhere(folder: Path) -> object:
    store, name = _saved(folder)
    held = store.hold(name)
    try:
        return Store(folder / "saved").hold(name)
    finally:
        assert held is not None
        held.release()


def _full_while_restoring(folder: Path) -> object:
    store, name = _saved(folder)
    with patch.object(whole_file, "second_name", side_effect=_FULL):
        return store.restore(name)


def _not_deleted(folder: Path) -> None:
    store, name = _saved(folder)
    with patch.object(Path, "unlink", side_effect=PermissionError(13, "Permission denied")):
        store.delete(name)


def _no_folder(folder: Path) -> object:
    (folder / "file").touch()
    return Store(folder / "file" / "saved").create("Job", {})


def _unlisted(folder: Path) -> object:
    (folder / "file").touch()
    return Store(folder / "file").names()


def _dying() -> object:
    raise SystemExit(9)


def _no_process(folder: Path) -> object:
    with Crew(_dying, 1, 1) as crew:  # type: ignore[arg-type,var-annotated]
        return list(crew.run([1]))


CAUSES = [
    Cause("answers that contradict each other", lambda folder: _contradicting(folder).advice()),
    Cause("answers that contradict each other, varied", lambda folder: vary(_contradicting(folder))),
    Cause("a rule with far too many alternatives", _many_alternatives),
    Cause("a stage that the engine cannot take", _beyond_the_engine),
    Cause("a saved consultation that is damaged", _damaged),
    Cause("a saved consultation that another program changed", _changed),
    Cause("a saved consultation that is open elsewhere", _open_elsewhere),
    Cause("a full disk while the earlier version is restored", _full_while_restoring),
    Cause("a saved consultation that may not be deleted", _not_deleted),
    Cause("a place for saved consultations that is a file", _no_folder),
    Cause("saved consultations looked for in a file", _unlisted),
    Cause("processes that end before they begin", _no_process),
    Cause("a process that is lost with the file it worked on",
          lambda folder: desk._found(folder, Lost("ended", failed=False))),
]
