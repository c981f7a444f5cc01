"""The small invented rules with an invariant, and faults planted in them."""

from __future__ import annotations

from pathlib import Path

from tests.small_rules import write_rules

INVARIANTS = """\
- limit: bound_low
  label: Nothing
  value: 0 mm
  sources: [common-practice]
- limit: bound_high
  label: Wide
  value: 150 mm
  sources: [common-practice]
- invariant: wide-is-not-glued
  says: A wide gap is never glued.
  when: {wide: yes}
  must_not: {method: glue}
  because: It runs out.
  sources: [common-practice]
- invariant: dust-is-warned-of
  says: Whoever glues is warned of dust.
  when: {status: [advice, close_call], method.sticky: yes}
  must: {all: [{caution: dust}, {step_in: do}]}
  because: Dust harms lungs.
  sources: [common-practice]
- invariant: gap-is-a-gap
  says: A gap is inside its bounds.
  for_each: {what: [gap]}
  within: {what: [limit/bound_low, limit/bound_high]}
  because: Nothing else can be measured.
  sources: [common-practice]
"""
SPEAKING = """\
- rule: doing.today
  says: There is always a word on today.
  when: {part: {one_of: [plate, tube]}}
  then:
    - condition: {say: Go on., verdict: go}
    - step: {phase: do, order: 90, do: Look at it.}
  because: Somebody looks.
  sources: [common-practice]
- example: Any part
  given: {part: tube}
  fires: [doing.today]
- example: All of it
  given: {part: plate, marks: blue, gap: 9 mm}
  fires: [gap.too-wide, way.wide, way.screw]
  silent: [gap.narrow]
- example: Close faces
  given: {part: plate, gap: 1 mm}
  fires: [gap.narrow, way.glue]
"""
NOTHING_CHANGED = ("topics/way/rules.yaml", "Glue holds.", "Glue holds.")


def planted(folder: Path, fault: tuple[str, str, str] = NOTHING_CHANGED, invariants: str = INVARIANTS) -> Path:
    """Write the rules with one fault planted: (file, text to replace, replacement)."""
    rules = write_rules(folder, fault=fault)
    (rules / "invariants.yaml").write_text(invariants, encoding="utf-8")
    (rules / "topics" / "doing" / "more.yaml").write_text(SPEAKING, encoding="utf-8")
    return rules
