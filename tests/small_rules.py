"""A small invented rules folder, whole and correct, for tests that then spoil it line by line."""

from __future__ import annotations

from pathlib import Path

FILES = {
    "stages.yaml": """\
- stage: look
  label: Look
  topics: [parts, gap]
- stage: pick
  label: Pick
  topics: [way]
- stage: work
  label: Work
  topics: [doing]
- phase: do
  label: Do it
""",
    "basics.yaml": """\
- source: common-practice
  title: Common practice
  kind: common-practice
- limit: gap_most
  label: Widest gap
  value: 3 mm
  sources: [common-practice]
- limit: margin_ample
  label: Ample
  value: 0.5
  sources: [common-practice]
- limit: margin_adequate
  label: Adequate
  value: 0.1
  sources: [common-practice]
- caution: dust
  severity: danger
  text: Wear a mask.
  because: Dust harms lungs.
  sources: [common-practice]
- decision: method
  label: Method
  of: method
  stage: pick
  heads: yes
  if_none: {refer: a repairer}
- kind: method
  label: Method
  attributes:
    sticky: {label: Sticky, kind: yes_no}
    reach: {label: Reach, kind: quantity, unit: mm, plausible: [0, 50]}
- method: glue
  label: Glue
  means: Stick it.
  say: "Glue it."
  attributes: {sticky: yes, reach: {low: 2, likely: 3, high: 5, confirm: yes}}
  sources: [common-practice]
- method: screw
  label: Screw
  means: Screw it.
  attributes: {sticky: no}
  sources: [common-practice]
""",
    "facts.yaml": """\
- fact: part
  label: Part
  kind: choice
  values: {plate: A plate, tube: A tube}
- fact: marks
  label: Marks
  kind: several
  values: {red: Red, blue: Blue}
- fact: gap
  label: Gap
  kind: quantity
  unit: mm
  plausible: [0, 150]
- fact: wide
  label: Whether the gap is wide
  kind: yes_no
""",
    "topics/parts/questions.yaml": """\
- question: part
  ask: What part is it?
  why: It decides the method.
  find_out: Look at it.
  essential: yes
- question: marks
  ask: Which marks does it have?
  why: They matter.
  find_out: Look at it.
  when: {part: plate}
  dont_know: {home_test: Wipe it clean and look again.}
""",
    "topics/gap/all.yaml": """\
- question: gap
  ask: How wide is the gap?
  why: Glue bridges little.
  find_out: Slide a drill bit in.
  dont_know: {assume: 10 mm, because: Taken as wide.}
- rule: gap.too-wide
  says: The gap is wide.
  when: {gap: {above: limit/gap_most}}
  then:
    - conclude: {wide: yes}
  because: The gap of {gap} is more than glue bridges.
  sources: [common-practice]
- rule: gap.narrow
  says: The gap is narrow.
  when: {gap: {at_most: limit/gap_most}}
  then:
    - conclude: {wide: no}
  because: Glue bridges {gap}.
  sources: [common-practice]
""",
    "topics/way/rules.yaml": """\
- rule: way.glue
  says: Glue holds.
  when: {part: {one_of: [plate, tube]}, wide: no}
  then:
    - favour: {method: glue, strength: clear}
  because: Close faces.
  sources: [common-practice]
- rule: way.screw
  says: Screws hold.
  when: {part: plate, marks: {is_not: red}}
  then:
    - favour: {method: screw, strength: slight}
  because: There is room.
  sources: [common-practice]
- rule: way.wide
  says: Glue does not bridge it.
  when: {wide: yes}
  then:
    - rule_out: {method: glue}
    - favour: {method: screw, strength: strong}
  because: Too wide at {gap}.
  sources: [common-practice]
""",
    "topics/doing/rules.yaml": """\
- rule: doing.stick
  says: It is glued.
  when: {method.sticky: yes}
  then:
    - step: {phase: do, do: "Glue it over {gap}."}
    - caution: dust
  because: So it holds.
  sources: [common-practice]
- example: Narrow gap
  given: {part: plate, gap: 1 mm}
  fires: [doing.stick]
- example: Wide gap
  given: {part: plate, gap: 9 mm}
  silent: [doing.stick]
""",
}


def write_rules(folder: Path, **changes: tuple[str, str, str]) -> Path:
    """Write the rules folder; each change is (file, text to replace, replacement)."""
    files = dict(FILES)
    for file, old, new in changes.values():
        assert old in files[file], f"{old!r} is not in {file}"
        files[file] = files[file].replace(old, new, 1)
    rules = folder / "rules"
    for name, text in files.items():
        path = rules / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return rules
