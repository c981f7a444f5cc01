"""What makes a rules folder unusable."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from advisor.knowledge.load import MOST_FILES, load_rule_base
from tests.knowledge.test_faults import BASICS, DOING, FACTS, FAULTS, GAP, PARTS, WAY
from tests.messages.causes import Cause
from tests.small_rules import write_rules


def _rule(then: str, when: str = "{part: plate}", because: str = "So it is.", topic: str = "way") -> str:
    return (f"- rule: {topic}.evil\n  says: It is so.\n  when: {when}\n  then:\n    - {then}\n"
            f"  because: \"{because}\"\n  sources: [common-practice]\n")


def _calculation(given: str, gives: str = "sum", using: str = "ply_thickness_mm") -> str:
    return (f"- calculation: way.evil\n  label: Evil\n  gives: {gives}\n  using: {using}\n  from: {{{given}}}\n"
            "  sources: [common-practice]\n")


def _question(more: str, name: str = "colour") -> str:
    return f"- question: {name}\n  ask: Which?\n  why: It matters.\n  find_out: Look.\n{more}"


def _decision(more: str, of: str = "method") -> str:
    return f"- decision: evil\n  label: Evil\n  of: {of}\n  stage: pick\n{more}"


def _invariant(more: str, sources: str = "common-practice") -> str:
    return f"- invariant: evil\n  says: Never.\n  because: It harms.\n  sources: [{sources}]\n{more}"


_SUM = "areal_mass_g_m2: gap, glass_fraction: gap, glass_density_kg_m3: gap, resin_density_kg_m3: gap"
_THING = "- method: evil\n  label: Evil\n  means: Evil.\n  sources: [common-practice]\n  attributes: {"
_KIND = "- kind: evil\n  label: Evil\n  attributes: "
_FACT = "- fact: evil\n  label: Evil\n  kind: "
_LOST = _FACT.replace("evil", "lost")

# What is added to a file of rules that are correct otherwise.
ADDED = (
    ("a computation that is none", DOING, _calculation(_SUM, using="weigh")),
    ("an argument that a computation has not", DOING, _calculation("areal_mas: gap")),
    ("a kind of thing that is none, for a computation", DOING, _calculation("areal_mass_g_m2: every/metod")),
    ("a limit that is none, for a computation", DOING, _calculation("areal_mass_g_m2: limit/evil")),
    ("a fact that is none, for a computation", DOING, _calculation("areal_mass_g_m2: evil")),
    ("a fact of a later stage, for a computation", GAP, _calculation("areal_mass_g_m2: method.reach")),
    ("a result that is no fact", DOING, _calculation(_SUM, gives="evil")),
    ("a result that is asked of the person", DOING, _calculation(_SUM, gives="gap")),
    ("a field that a result has not", DOING, _calculation(_SUM, gives="{wide: evil}")),
    ("a reading in no known unit", DOING,
     _rule("reading: {name: Gap, go_when: Narrow., phase: do, unit: furlong}", topic="doing")),
    ("a word recalled that is no answer", DOING, _rule("recall: {part: evil}", topic="doing")),
    ("an answer handed on that is none", DOING, _rule("go_on: {say: Go on., answers: {part: evil}}", topic="doing")),
    ("an answer handed on from a fact that shares no word", DOING,
     _rule('go_on: {say: Go on., answers: {part: "{wide}"}}', topic="doing")),
    ("an amount that nothing supplies", DOING,
     _rule("quantity: {item: Glue, amount: lost}", topic="doing") + _LOST + "quantity\n  unit: g\n"),
    ("a waiting time in millimetres", DOING, _rule("step: {phase: do, do: Wait., wait: gap}", topic="doing")),
    ("a conclusion that is no fact", WAY, _rule("conclude: {evil: yes}")),
    ("a conclusion that is no value of its fact", GAP, _rule("conclude: {wide: perhaps}", topic="gap")),
    ("a choice made after its time", DOING, _rule("rule_out: {method: glue}", topic="doing")),
    ("a check against a limit that is none", DOING,
     _rule("check: {name: Gap, value: gap, at_most: limit/evil}", topic="doing")),
    ("a check whose ample margin is none", DOING,
     _rule("check: {name: Gap, value: gap, at_most: limit/gap_most, ample: limit/evil}", topic="doing")),
    ("a text with a number that nothing supplies", WAY,
     _rule("caution: dust", because="{lost}.") + _LOST + "quantity\n  unit: g\n"),
    ("a test against a fact of the same stage", WAY,
     _rule("caution: dust", "{gap: {above: method.reach}}")),
    ("a test of a fact that nothing supplies", WAY,
     _rule("caution: dust", "{lost: yes}") + _LOST + "yes_no\n"),
    ("a test of a whole table", WAY, _rule("caution: dust", "{lost: yes}") + _LOST + "record\n"),
    ("words that are to be above", WAY, _rule("caution: dust", "{part: {above: limit/gap_most}}")),
    ("two right sides of `above`", WAY, _rule("caution: dust", "{gap: {above: [limit/gap_most, limit/gap_most]}}")),
    ("a number that is to be a word", WAY, _rule("caution: dust", "{gap: wide}")),
    ("an invariant that demands nothing", BASICS, _invariant("  when: {part: plate}\n")),
    ("an invariant for every thing of a kind", BASICS,
     _invariant("  for_each: {x: method}\n  when: {part: plate}\n  must: {status: stop}\n")),
    ("an invariant without known source", BASICS, _invariant("  must: {status: stop}\n", "evil")),
    ("an invariant that compares the status", BASICS, _invariant("  must: {status: {above: limit/gap_most}}\n")),
    ("an invariant of a status that is none", BASICS, _invariant("  must: {status: evil}\n")),
    ("an invariant of a fact that is none", BASICS, _invariant("  must: {evil: yes}\n")),
    ("an invariant that compares words", BASICS, _invariant("  must: {part: {above: limit/gap_most}}\n")),
    ("an invariant with two bounds", BASICS,
     _invariant("  must: {gap: {above: [limit/gap_most, limit/gap_most]}}\n")),
    ("an invariant of a word that is none", BASICS, _invariant("  must: {part: evil}\n")),
    ("a question that is no fact", PARTS, _question("  essential: yes\n")),
    ("a question that is essential and may go unasked", PARTS,
     _question("  essential: yes\n  unasked: {part: plate}\n", "evil") + _FACT + "yes_no\n"),
    ("a question asked because of what is known later only", GAP,
     _question("  essential: yes\n  when: {method: glue}\n", "evil") + _FACT + "yes_no\n"
     + _rule("caution: dust", "{evil: yes}", topic="gap")),
    ("a word assumed that is no answer", PARTS,
     _question("  dont_know: {assume: perhaps, because: So.}\n", "evil") + _FACT + "yes_no\n"),
    ("a fact that nothing supplies", FACTS, _FACT + "yes_no\n"),
    ("a limit that nothing reads", BASICS,
     "- limit: evil\n  label: Evil\n  value: 3 mm\n  sources: [common-practice]\n"),
    ("an example with a fact that is none", DOING, "- example: Evil\n  given: {evil: yes}\n  fires: [doing.stick]\n"),
    ("an example with a word that is none", DOING, "- example: Evil\n  given: {part: evil}\n  fires: [doing.stick]\n"),
    ("a rule outside the topics", BASICS, _rule("caution: dust")),
    ("a choice without words", FACTS, _FACT + "choice\n"),
    ("a choice of things of no kind", FACTS, _FACT + "choice\n  values_of: evil\n"),
    ("a plausible range upside down", FACTS, _FACT + "quantity\n  unit: mm\n  plausible: [9, 1]\n"),
    ("a fact that is a decision", FACTS, _FACT.replace("evil", "method") + "yes_no\n"),
    ("a quantity without unit", FACTS, _FACT + "quantity\n"),
    ("an attribute of things of no kind", BASICS,
     "- kind: evil\n  label: Evil\n  attributes: {parts: {label: Parts, kind: things}}\n"),
    ("an attribute of several words that gathers nothing", BASICS, _KIND + "{parts: {label: Parts, kind: several}}\n"),
    ("an attribute that gathers what is not there", BASICS,
     _KIND + "{parts: {label: Parts, kind: several, gathers: method.none}}\n"),
    ("a number not below another that is not there", BASICS,
     _KIND + "{size: {label: Size, kind: quantity, unit: mm, not_below: none}}\n"),
    ("a thing that writes what is gathered", BASICS,
     "- kind: bit\n  label: Bit\n  attributes: {dye: {label: Dye, kind: choice, values: {red: Red}}}\n"
     + _KIND + "{bits: {label: Bits, kind: things, of: bit}, dyes: {label: Dyes, kind: several, gathers: bit.dye}}\n"
     "- evil: thing\n  label: Thing\n  means: Evil.\n  sources: [common-practice]\n  attributes: {dyes: red}\n"),
    ("a thing called `on`", BASICS, _THING.replace("evil", "on", 1) + "}\n"),
    ("a word that an attribute has not", BASICS, _THING + "sticky: perhaps}\n"),
    ("a decision about things of no kind", BASICS, _decision("  if_none: {refer: a repairer}\n", of="evil")),
    ("a decision without a way out", BASICS, _decision("  if_none: {}\n")),
    ("a plan that names no fact", BASICS, _decision(
        "  if_none: {refer: a repairer}\n  plan: {fact: evil, standing: wide, against: wide}\n")),
    ("a conclusion that is a word", WAY, _rule("caution: dust").replace("    - caution: dust", "    - dust")),
    ("a condition that is a list in a list", WAY, _rule("caution: dust", "{all: x}")),
    ("two tests in one line of `any`", WAY, _rule("caution: dust", "{any: [{part: panel, gap: x}]}")),
    ("a right side that is a list of lists", WAY, _rule("caution: dust", "{part: [[plate]]}")),
    ("two decisions in one line", WAY, _rule("rule_out: {method: glue, part: plate}")),
    ("a check without a bound", DOING, _rule("check: {name: Gap, value: gap}", topic="doing")),
    ("conclusions that are no list", WAY, _rule("x").replace("  then:\n    - x\n", "  then: x\n")),
    ("cases of an assumption that are no list", PARTS,
     _question("  dont_know: {assume: yes, because: So., instead: x}\n", "evil")),
    ("a file of rules that is no list", BASICS + ".evil.yaml", "a: b\n"),
    ("an entry that is a word", BASICS, "- evil\n"),
    ("a text where a number belongs", FACTS, _FACT + "quantity\n  unit: mm\n  plausible: [low, high]\n"),
    ("a number that is a word", BASICS, "- limit: evil\n  label: Evil\n  value: wide\n  sources: [common-practice]\n"),
    ("a number in the wrong kind of unit", BASICS, _THING + "reach: 3 kg}\n"),
    ("a number without any number", BASICS,
     "- limit: evil\n  label: Evil\n  value: {note: none}\n  sources: [common-practice]\n"),
    ("a range in two units", BASICS,
     "- limit: evil\n  label: Evil\n  value: {low: 3 mm, high: 3 kg}\n  sources: [common-practice]\n"),
    ("an attribute in no known unit", BASICS,
     "- kind: evil\n  label: Evil\n  attributes: {size: {label: Size, kind: quantity, unit: furlong}}\n"
     "- evil: thing\n  label: Thing\n  means: Evil.\n  sources: [common-practice]\n  attributes: {size: 3 mm}\n"),
    ("a result in no known unit", DOING,
     "- fact: far\n  label: Far\n  kind: quantity\n  unit: furlong\n" + _calculation(_SUM, gives="far")),
    ("a range out of order", BASICS,
     "- limit: evil\n  label: Evil\n  value: {low: 5 mm, high: 3 mm}\n  sources: [common-practice]\n"),
    ("a number where a word belongs", BASICS, _THING + "sticky: {low: 1, high: 2}}\n"),
    ("a list where a word belongs", BASICS, _THING + "sticky: [yes, no]}\n"),
)
# What is put in the place of something, beyond what tests/knowledge does.
CHANGED = (
    ("an argument that is missing for a computation", DOING, "- rule: doing.stick", _calculation("areal_mass_g_m2: gap")
     + "- rule: doing.stick"),
    ("a stage without one of its topics", "stages.yaml", "topics: [way]", "topics: [wey]"),
    ("a quantity asked without plausible range", FACTS, "  plausible: [0, 150]\n", ""),
)


def _spoiled(file: str, old: str, new: str, folder: Path) -> object:
    return load_rule_base(write_rules(folder, fault=(file, old, new)))


def _added(file: str, text: str, folder: Path) -> object:
    rules = write_rules(folder)
    with (rules / file).open("a", encoding="utf-8") as target:
        target.write(text)
    return load_rule_base(rules)


def _too_many(folder: Path) -> object:
    for number in range(MOST_FILES + 1):
        (folder / f"{number}.yaml").touch()
    return load_rule_base(folder)


def causes() -> list[Cause]:
    """One cause for each way to spoil the small rules, and two for folders that are none."""
    return [*(Cause(said, partial(_spoiled, *fault[:3])) for said, fault in FAULTS.items()),
            *(Cause(said, partial(_spoiled, file, old, new)) for said, file, old, new in CHANGED),
            *(Cause(said, partial(_added, file, text)) for said, file, text in ADDED),
            Cause("a rules folder that is none", lambda folder: load_rule_base(folder / "none")),
            Cause("a folder of thousands of files", _too_many)]
