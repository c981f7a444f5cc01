"""The audit finds planted faults, makes them small, prints them as answer files, and comes out the same every time."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import answer_file
from advisor.audit import present
from advisor.audit.bench import Bench, Plan
from advisor.audit.run import Report, Wish, audit
from advisor.cli import main
from advisor.errors import KnowledgeError
from tests.audit.planted import INVARIANTS, planted

FaultTable = dict[str, tuple[tuple[str, str, str], str, set[str]]]
WAY, DOING = "topics/way/rules.yaml", "topics/doing/rules.yaml"
FAULTS: FaultTable = {
    "rule out forgotten": ((WAY, "    - rule_out: {method: glue}\n    - favour: {method: screw, strength: strong}",
                            "    - favour: {method: glue, strength: strong}"), "invariant wide-is-not-glued", {"part"}),
    "required and ruled out": ((WAY, "    - rule_out: {method: glue}",
                                "    - rule_out: {method: glue}\n    - require: {method: glue}"),
                               "required and ruled out: method glue", {"part"}),
    "two values": (("topics/gap/all.yaml", "{at_most: limit/gap_most}", "{above: limit/gap_most}"),
                   "two values of wide", set()),
}


def audited(rules: Path, cases: int = 120, seed: int = 1, processes: int = 1, mutate: bool = False) -> Report:
    return audit(Wish(rules=str(rules), cases=cases, seed=seed, processes=processes, mutate=mutate))


def test_sound_rules_are_clean(tmp_path: Path) -> None:
    report = audited(planted(tmp_path))
    assert report.faults == []
    assert report.tally.cases == 120 and sum(report.tally.ends.values()) == 120
    assert set(report.rule_base.rules) <= set(report.tally.fired)
    assert report.pairs.covered == report.pairs.total > 0
    assert report.idle_invariants == []


@pytest.mark.parametrize("name", FAULTS)
def test_a_planted_fault_is_caught_shrunk_and_printed(name: str, tmp_path: Path) -> None:
    change, key, needed = FAULTS[name]
    rules = planted(tmp_path, change)
    report = audited(rules)
    fault = next(fault for fault in report.faults if fault.key == key)
    assert fault.answers is not None and set(fault.answers) == needed
    printed = next(line for line in present.faults(report) if "advisor: 1" in line)
    file = answer_file.parse(printed[printed.index("advisor: 1"):], "printed")
    assert file.answers == dict(next(one for one in report.faults if one.answers is not None).answers or {})


@pytest.mark.parametrize("wrong", ["fires: [doing.stick]", "warns: [dust]"])
def test_an_example_that_does_not_hold_is_a_fault(wrong: str, tmp_path: Path) -> None:
    report = audited(planted(tmp_path, (DOING, "silent: [doing.stick]", wrong)), cases=4)
    assert [fault.key for fault in report.faults if fault.key.startswith("example")]


def test_a_rule_that_nothing_fires_is_a_fault(tmp_path: Path) -> None:
    rules = planted(tmp_path)
    (rules / "topics" / "doing" / "idle.yaml").write_text(
        "- rule: doing.idle\n  says: Never.\n  when: {part: plate, wide: yes, method.sticky: yes}\n"
        "  then: [{caution: dust}]\n  because: It cannot be.\n  sources: [common-practice]\n", encoding="utf-8")
    assert [fault.key for fault in audited(rules).faults] == ["never fired: doing.idle"]


def test_the_same_seed_gives_the_same_result_on_one_and_two_processes(tmp_path: Path) -> None:
    rules = planted(tmp_path, FAULTS["rule out forgotten"][0])
    one, two = (audited(rules, cases=60, processes=count) for count in (1, 2))
    assert one.tally == two.tally and one.faults == two.faults
    other = audited(rules, cases=60, seed=2)
    assert other.tally.fired != one.tally.fired


def test_spoiled_rules_are_noticed_by_example_or_invariant(tmp_path: Path) -> None:
    report = audited(planted(tmp_path), mutate=True)
    by_name = {one.mutant.name: one for one in report.noticed}
    assert set(by_name) == {"way.wide deleted", "way.wide silenced", "doing.stick deleted", "doing.stick silenced"}
    assert all(one.by_invariant for name, one in by_name.items() if name.startswith("doing.stick silenced"))
    blind = audited(planted(tmp_path / "blind", invariants=INVARIANTS.replace("{caution: dust}, ", "")), mutate=True)
    silenced = next(one for one in blind.noticed if one.mutant.name == "doing.stick silenced")
    assert silenced.differs and not present.is_noticed(silenced)


def test_mistakes_in_the_rules_are_told_with_file_and_line(tmp_path: Path) -> None:
    rules = planted(tmp_path, (WAY, "Glue holds.\n", "Glue holds.\n  wen: {part: plate}\n"))
    with pytest.raises(KnowledgeError, match=r"way/rules\.yaml:3: unknown field `wen`"):
        audited(rules)


def test_the_command_ends_with_its_status_and_prints_the_seed(tmp_path: Path,
                                                               capsys: pytest.CaptureFixture[str]) -> None:
    clean, spoiled = planted(tmp_path / "a"), planted(tmp_path / "b", FAULTS["rule out forgotten"][0])
    assert main(["audit", "--rules", str(clean), "--cases", "40", "--seed", "7", "--processes", "1"]) == 0
    out, err = capsys.readouterr()
    assert "seed 7" in out and "clean: no faults found" in out and "cases 40 of 40" in err
    assert main(["audit", "--rules", str(spoiled), "--cases", "40", "--processes", "1", "--firing"]) == 1
    out, _ = capsys.readouterr()
    assert "FAULT invariant wide-is-not-glued" in out and "way.screw: case" in out
    assert main(["audit", "--cases", "0"]) == 2


@pytest.mark.timeout(900)
def test_the_real_rules_have_no_faults() -> None:
    report = audit(Wish(cases=150, processes=2))
    assert [f"{fault.key}: {fault.says}" for fault in report.faults] == []
    assert len(report.rule_base.invariants) >= 40


def test_a_plan_builds_its_bench_and_cases_hang_on_the_seed_alone(tmp_path: Path) -> None:
    bench = Bench(Plan(str(planted(tmp_path)), (), 1, 10))
    assert bench.rule_base.rules and bench.cases.draft(3, bench.cases.random(3)) == bench.cases.draft(
        3, bench.cases.random(3))
