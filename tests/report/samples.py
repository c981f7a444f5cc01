"""Invented advice and a small rule base for the report tests."""

from __future__ import annotations

import dataclasses
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from advisor.consultation import advice as a
from advisor.knowledge.load import load_rule_base
from advisor.knowledge.model import Phase, Source, Term
from advisor.knowledge.rulebase import RuleBase
from advisor.report.blocks import Item, Section, texts_of
from advisor.report.outline import outline
from tests.small_rules import write_rules

PHASES = ("ready", "apply")
SOURCES = (
    Source(source="common-practice", title="Common practice", kind="common-practice"),
    Source(source="from-memory", title="Recalled", kind="from-memory"),
    Source(source="invented-standard", title="Invented joints", issuer="ABC", number="ABC 12", year="1999",
           section="4.2", kind="standard"),
    Source(source="unopened", title="Unopened book", issuer="XYZ", kind="handbook", seen="no"),
)
TERMS = (
    Term(term="ply", label="ply", means="One layer.", also=("layer",)),
    Term(term="peel_ply", label="peel ply", means="Torn off later."),
    Term(term="dew_point", label="dew point", means="Where water settles."),
    Term(term="csm", label="CSM", means="Chopped strand mat."),
    Term(term="gel_coat", label="gel coat", means="The outer skin.", also=("gelcoat",)),
    Term(term="batch", label="batch", means="What is mixed at once."),
    Term(term="tack", label="tack", means="Stickiness that a ply needs."),
)


@cache
def rule_base() -> RuleBase:
    """The small rules folder with phases, sources and terms for the report."""
    with TemporaryDirectory() as folder:
        small = load_rule_base(write_rules(Path(folder)))
    phases = {id_: Phase(phase=id_, label=f"Phase {id_}") for id_ in PHASES}
    return dataclasses.replace(small, phases=phases, sources={s.source: s for s in SOURCES},
                               terms={t.term: t for t in TERMS})


def why(*source: str) -> a.Why:
    return a.Why(rule="made.up", because="Because it was made up.", source=source or ("common-practice",))


def evidence(strength: Any, because: str, weight: Any = None, rule: str = "") -> a.EvidenceLine:
    return a.EvidenceLine(rule=rule or f"made.{because.split()[1]}", because=because, source=("invented-standard",),
                          strength=strength, weight=weight)


def candidate(id_: str, standing: Any, *lines: a.EvidenceLine) -> a.Candidate:
    return a.Candidate(id=id_, label=id_.capitalize(), standing=standing, evidence=lines)


def caution(id_: str, severity: Any, text: str) -> a.CautionLine:
    return a.CautionLine(id=id_, severity=severity, text=text, because=f"Reason of {id_}.",
                         source=("from-memory",), defer_to=f"the master of {id_}")


def quantity(item: str, **given: Any) -> a.Quantity:
    values: dict[str, Any] = {"amount": None, "unit": "as needed", "low": None, "high": None, "packs": None,
                              "basis": "as needed", "buy": True, "why": why(), "note": None}
    return a.Quantity(item=item, **{**values, **given})


def check(**given: Any) -> a.CheckLine:
    values: dict[str, Any] = {"name": "Joint", "value": 12.0, "low": 11.0, "high": 13.0, "limit": 10.0,
                              "limit_low": 10.0, "limit_high": 10.0, "unit": "mm", "margin": 2.0,
                              "ratio": 1.2, "straddles": False, "with_numbers": "4 mm x 3 mm", "assumed": (),
                              "bound": "at_least", "verdict": "adequate", "formula": "length x width",
                              "source": ("invented-standard",)}
    return a.CheckLine(**{**values, **given})


def step(number: int, phase: str, text: str, **given: Any) -> a.StepLine:
    return a.StepLine(number=number, phase=phase, text=text, duration=given.get("duration"),
                      hold_point=given.get("hold_point"), right_when=given.get("right_when"),
                      if_not=given.get("if_not"), why=why())


def whole(**changes: Any) -> a.Advice:
    """An advice with something in every part."""
    glue = candidate("glue", "chosen", evidence("favour", "A slight reason.", "slight"),
                     evidence("favour", "A strong reason.", "strong"), evidence("oppose", "It smells.", "slight"))
    screw = candidate("screw", "possible", evidence("favour", "There is room.", "clear"),
                      evidence("oppose", "Holes weaken it.", "clear"))
    weld = candidate("weld", "ruled_out", evidence("oppose", "It is loud.", "strong"),
                     evidence("rule_out", "Plastic burns."))
    tape = candidate("tape", "nothing_for_it")
    paste = candidate("paste", "chosen", evidence("favour", "It fills the gap.", "clear"))
    parts: dict[str, Any] = {
        "title": "Cowl of an invented tricycle", "status": "advice", "method": "glue", "verdict": "Glue it.",
        "methods": (glue, screw, weld, tape),
        "choices": (a.Choice(decision="method", label="Method", chosen="glue", candidates=(glue, screw, weld, tape)),
                    a.Choice(decision="adhesive", label="Adhesive", chosen="paste", candidates=(paste,))),
        "specification": (
            a.SpecificationLine(about="Bond line", say="One millimetre.", why=why()),
            a.SpecificationLine(about="Plies", say="In the order of laying.", why=why(),
                                rows=({"number": 1, "glass": "Mat", "mass": "450 g/m²"},
                                      {"number": 2, "glass": "Cloth | twill", "mass": None}),
                                columns={"number": "Number", "glass": "Glass", "mass": "Mass"})),
        "quantities": (quantity("Paste", amount=100.0, low=80.0, high=150.0, unit="mL", basis="bead volume",
                                packs="2 x 75 mL"),
                       quantity("Clamps", amount=5.2, low=5.2, high=6.4, unit="count", basis="spacing"),
                       quantity("Cloths", note="Lint-free."),
                       quantity("Resin laid", amount=0.5, low=0.4, high=0.6, unit="kg", basis="area", buy=False)),
        "steps": (step(1, "ready", "Read the label.", duration="half an hour"),
                  step(2, "apply", "Lay a layer.", hold_point="Nothing before the face is dry.",
                       right_when="It is clear.", if_not="Roll again."),
                  step(3, "apply", "Lay the peel ply.")),
        "batches": (a.Batch(number=1, mass_kg=0.3, start_min=0, place_within_min=12, stop_at_min=20),
                    a.Batch(number=2, mass_kg=0.3, start_min=9, place_within_min=12, stop_at_min=20)),
        "conditions": (a.ConditionLine(say="Dew point near.", verdict="wait", why=why()),
                       a.ConditionLine(say="Warm enough.", verdict="go", why=why("unopened"))),
        "checks": (check(), check(name="Heat", value=48.0, limit=50.0, unit="C", margin=-2.0, verdict="fails",
                                    bound="at_least")),
        "cautions": (caution("fall", "note", "Mind the step."), caution("fire", "danger", "No flame."),
                     caution("skin", "care", "Wear gloves."), caution("disputed_taper", "note", "Some say long."),
                     caution("tank", "stop", "Drain the tank.")),
        "confirm": (a.ConfirmLine(text="Open time", used="20 min"), a.ConfirmLine(text="Mixing ratio")),
        "pivotal": (a.Pivot(question="gap", ask="How wide is the gap?", matters=False,
                            outcomes={"narrow": "glue", "wide": "glue"}, find_out="Use a drill bit."),
                    a.Pivot(question="part", ask="What is it made of?", matters=True, find_out="Scratch it.",
                            outcomes={"plate": "glue", "tube": "screw", "rod": "screw"})),
        "assumed": (a.Assumed(question="gap", ask="How wide is the gap?", value="10 mm", because="Taken as wide."),),
        "missing": (a.MissingLine(question="gap", text="How wide is the gap?"),
                    a.MissingLine(question="bead", text="The bead could not be worked out: too thin")),
        "trace": (a.TraceLine(fact="part", value="a plate", rule="part", origin="answer", source=(),
                              because="you said so", from_=()),
                  a.TraceLine(fact="wide", value="yes", rule="gap.too-wide", origin="rule",
                              source=("invented-standard",), because="More than glue bridges.", from_=("gap",))),
        "rule_base": a.RuleBaseStamp(version="1", hash="abcdef0123456789")}
    return a.Advice(**{**parts, **changes})


def ended(status: Any, **changes: Any) -> a.Advice:
    """An advice without a method."""
    nothing: dict[str, Any] = dict.fromkeys(("choices", "specification", "quantities", "steps", "batches", "conditions",
                                             "checks", "confirm", "pivotal", "methods"), ())
    return whole(**{"status": status, "method": None, "verdict": "An aircraft part is for licensed people.",
                    "turn_to": ("a licensed engineer",), **nothing, **changes})


def sections(advice: a.Advice, details: bool = False) -> dict[str, Section]:
    return {section.id: section for section in outline(advice, rule_base(), details=details)}


def said(section: Section) -> list[str]:
    return list(texts_of([section]))[1:]


def heads(section: Section) -> list[str]:
    return [block.head.text for block in section.blocks if isinstance(block, Item)]


def items(section: Section) -> list[Item]:
    return [block for block in section.blocks if isinstance(block, Item)]
