"""Every fault in a rules file is reported with file, line, what is wrong and what would be right."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.engine.compile import compile_rules
from advisor.errors import KnowledgeError
from advisor.knowledge.load import load_rule_base, read_rule_base
from tests.small_rules import write_rules

WAY, GAP, BASICS = "topics/way/rules.yaml", "topics/gap/all.yaml", "basics.yaml"
FACTS, PARTS, DOING = "facts.yaml", "topics/parts/questions.yaml", "topics/doing/rules.yaml"

FAULTS = {
    "unknown field": (WAY, "  because: Close", "  becuase: Close", f"{WAY}:6", "unknown field `becuase`",
                      "did you mean `because`?"),
    "missing field": (WAY, "  because: Close faces.\n", "", f"{WAY}:1", "`because` is missing", "add it"),
    "unknown kind of entry": (WAY, "- rule: way.glue", "- rul: way.glue", f"{WAY}:1", "unknown kind of entry `rul`",
                              "did you mean `rule`?"),
    "unknown fact": (WAY, "wide: no}", "wyde: no}", f"{WAY}:3", "unknown fact `wyde`", "did you mean `wide`?"),
    "unknown value": (WAY, "part: plate, marks", "part: plat, marks", f"{WAY}:10", "`part` has no value `plat`",
                      "did you mean `plate`?"),
    "unknown operator": (GAP, "{above: limit", "{abve: limit", f"{GAP}:8", "unknown operator `abve`",
                         "did you mean `above`?"),
    "unknown conclusion": (WAY, "- rule_out:", "- ruleout:", f"{WAY}:19", "unknown conclusion `ruleout`",
                           "did you mean `rule_out`?"),
    "unknown candidate": (WAY, "{method: glue, strength", "{method: glu, strength", f"{WAY}:5",
                          "there is no method `glu`", "did you mean `glue`?"),
    "unknown limit": (GAP, "above: limit/gap_most", "above: limit/gap_mst", f"{GAP}:8", "there is no limit `gap_mst`",
                      "did you mean `gap_most`?"),
    "unknown caution": (DOING, "- caution: dust", "- caution: dost", f"{DOING}:6", "there is no caution `dost`",
                        "did you mean `dust`?"),
    "unknown part of a drawing": (DOING, "- caution: dust", "- draw: {part: slop}\n    - caution: dust", f"{DOING}:6",
                                  "there is no part of a drawing `slop`", "did you mean `slope`?"),
    "drawing without a measure": (DOING, "- caution: dust", "- draw: {part: bed}\n    - caution: dust", f"{DOING}:6",
                                  "`bed` cannot be drawn without `thickness`", "add `thickness: fact`"),
    "drawing with a strange measure": (DOING, "- caution: dust",
                                       "- draw: {part: bed, thickness: gap, depht: gap}\n    - caution: dust",
                                       f"{DOING}:6", "`bed` has no measure `depht`", ""),
    "drawing of no number": (DOING, "- caution: dust", "- draw: {part: bed, thickness: gab}\n    - caution: dust",
                             f"{DOING}:6", "`gab` is not a quantity or count fact", "did you mean `gap`?"),
    "unknown source": (WAY, "sources: [common-practice]", "sources: [comon-practice]", f"{WAY}:1",
                       "there is no source `comon-practice`", "did you mean `common-practice`?"),
    "no source": (WAY, "  sources: [common-practice]\n", "", f"{WAY}:1", "`sources` is missing", "add it"),
    "limit without source": (BASICS, "  value: 3 mm\n  sources: [common-practice]\n", "  value: 3 mm\n",
                             f"{BASICS}:4", "names no source", "add `sources"),
    "number in a rule": (GAP, "above: limit/gap_most", "above: 3", f"{GAP}:8", "the number `3` stands in a rule",
                         "limit"),
    "wrong unit of a limit": (BASICS, "value: 3 mm", "value: 3 kg", f"{GAP}:8", "`gap` is in mm", "like with like"),
    "no such unit": (BASICS, "value: 3 mm", "value: 3 furlong", f"{BASICS}:4", "`furlong` is not a unit", ""),
    "duplicate key": (WAY, "  says: Glue holds.\n", "  says: Glue holds.\n  says: Twice.\n", f"{WAY}:3",
                      "duplicate key `says`", "first written on line 2"),
    "duplicate id": (WAY, "- rule: way.screw", "- rule: way.glue", f"{WAY}:8", "duplicate id `way.glue`",
                     f"{WAY}:1"),
    "boolean word as a value": (FACTS, "red: Red", "off: Red", f"{FACTS}:5", "`off` cannot be a value", "yes_no"),
    "true where yes is meant": (WAY, "wide: no}", "wide: false}", f"{WAY}:3", "`wide` has no value `false`", "yes, no"),
    "absence of a fact of the same stage": (WAY, "marks: {is_not: red}", "method: {is_not: glue}", f"{WAY}:10",
                                            "`method` is tested for absence", "earlier stages"),
    "fact of a later stage": (GAP, "when: {gap: {at_most", "when: {method: glue, gap: {at_most", f"{GAP}:15",
                              "`method` is only known in a later stage", "later topic"),
    "conclusion that is asked": (GAP, "conclude: {wide: yes}", "conclude: {part: plate}", f"{GAP}:10",
                                 "`part` is asked of the person", "another name"),
    "evidence without strength": (WAY, "{method: glue, strength: clear}", "{method: glue}", f"{WAY}:5",
                                  "`favour` needs a strength", "slight, clear or strong"),
    "placeholder of nothing": (GAP, "gap of {gap}", "gap of {gab}", f"{GAP}:6", "the placeholder `{gab}`",
                               "did you mean `gap`?"),
    "question nobody reads": (WAY, "marks: {is_not: red}", "wide: yes", f"{PARTS}:6",
                              "no rule reads the answer to `marks`", "use it"),
    "question without a way out": (GAP, "  dont_know: {assume: 10 mm, because: Taken as wide.}\n", "", f"{GAP}:1",
                                   "must be essential or say", "dont_know"),
    "assumption out of range": (GAP, "assume: 10 mm", "assume: 10 km", f"{GAP}:1", "the assumption `10 km`", ""),
    "unknown phase": (DOING, "phase: do,", "phase: dew,", f"{DOING}:5", "there is no phase `dew`", "do"),
    "attribute out of range": (BASICS, "high: 5, confirm", "high: 500, confirm", f"{BASICS}:32",
                               "`glue.reach` is outside 0 to 50", "mm"),
    "unknown attribute": (BASICS, "attributes: {sticky: no}", "attributes: {stiky: no}", f"{BASICS}:38",
                          "`method` has no attribute `stiky`", "did you mean `sticky`?"),
    "caution nobody raises": (DOING, "    - caution: dust\n", "", f"{BASICS}:16", "no rule raises the caution `dust`",
                              "take it out"),
    "rule in the wrong topic": (WAY, "- rule: way.glue", "- rule: gap.glue", f"{WAY}:1", "stands in topic `way`",
                                "starts with `way.`"),
    "example of no rule": (DOING, "fires: [doing.stick]", "fires: [doing.stik]", f"{DOING}:9",
                           "there is no rule `doing.stik`", "did you mean `doing.stick`?"),
    "example of no caution": (DOING, "fires: [doing.stick]", "fires: [doing.stick]\n  warns: [duts]", f"{DOING}:9",
                              "there is no caution `duts`", "did you mean `dust`?"),
    "alias": (WAY, "  says: Glue holds.", "  says: &x Glue holds.", f"{WAY}:2", "anchors and aliases", "quotes"),
    "tag": (WAY, "  says: Glue holds.", "  says: !!python/name:os.system x", f"{WAY}:2", "the tag", "text only"),
    "two operators on a line": (GAP, "{above: limit/gap_most}", "{above: limit/gap_most, below: limit/gap_most}",
                                f"{GAP}:8", "`gap` has 2 operators", "between"),
    "not YAML": (WAY, "  says: Glue holds.", "  says: [Glue holds.", f"{WAY}:", "not readable as YAML", "indentation"),
}


def test_the_small_rules_are_correct(tmp_path: Path) -> None:
    rule_base = load_rule_base(write_rules(tmp_path))
    assert len(rule_base.rules) == 6
    compile_rules(rule_base)


@pytest.mark.parametrize("name", FAULTS)
def test_fault_is_reported_with_place_and_help(name: str, tmp_path: Path) -> None:
    file, old, new, place, what, help = FAULTS[name]
    with pytest.raises(KnowledgeError) as caught:
        load_rule_base(write_rules(tmp_path, fault=(file, old, new)))
    matching = [p for p in caught.value.problems if what in p.what and (p.where or "").startswith(f"rules/{place}")]
    assert matching, str(caught.value)
    assert help in (matching[0].help or "")


def test_every_fault_is_reported_in_one_go(tmp_path: Path) -> None:
    changes = {f"c{i}": FAULTS[name][:3] for i, name in enumerate(
        ("unknown value", "unknown limit", "unknown phase", "boolean word as a value"))}
    _, problems = read_rule_base(write_rules(tmp_path, **changes))
    text = "\n".join(map(str, problems))
    for what in ("no value `plat`", "no limit `gap_mst`", "no phase `dew`", "`off` cannot be a value"):
        assert what in text


def test_a_fact_that_nothing_supplies_is_reported(tmp_path: Path) -> None:
    rules = write_rules(tmp_path, one=(GAP, "    - conclude: {wide: yes}", "    - caution: dust"),
                        two=(GAP, "    - conclude: {wide: no}", "    - caution: dust"))
    _, problems = read_rule_base(rules)
    assert any("`wide` is supplied by no question" in p.what and (p.where or "").endswith(f"{WAY}:3")
               for p in problems)


def test_files_are_data_only(tmp_path: Path) -> None:
    target = tmp_path / "touched"
    rules = write_rules(tmp_path, fault=(WAY, "says: Glue holds.",
                                         f"says: !!python/object/apply:os.system ['touch {target}']"))
    with pytest.raises(KnowledgeError):
        load_rule_base(rules)
    assert not target.exists()


def test_a_missing_folder_says_how_to_name_one(tmp_path: Path) -> None:
    with pytest.raises(KnowledgeError, match="no rules folder"):
        load_rule_base(tmp_path / "nowhere")
