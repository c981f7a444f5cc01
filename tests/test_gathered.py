"""What a thing has by what it is made of, and what a card of a part changes there."""

from __future__ import annotations

from dataclasses import replace

from advisor.consultation.consult import Advisor
from advisor.knowledge.gathered import gathering_problems
from advisor.knowledge.product_card import parse_card, with_cards

ROLL = "advisor: 1\nproduct: Invented roll\nkind: reinforcement\nfamily: biaxial_400\nvalues:\n  binder: emulsion\n"


def test_a_build_up_has_the_binders_of_its_glasses_and_of_a_card(advisor: Advisor) -> None:
    rules = advisor.rule_base
    held = rules.materials["build_up"]["epoxy_biaxial"].values["binders"]
    assert held == ("stitched", "woven")
    own = with_cards(rules, [parse_card(ROLL, "roll", rules)])
    assert own.materials["build_up"]["epoxy_biaxial"].values["binders"] == ("emulsion", "woven")
    assert own.materials["build_up"]["cloth_only"].values["binders"] == ("woven",)
    assert rules.materials["build_up"]["epoxy_biaxial"].values["binders"] == held


def test_a_word_that_differs_from_the_familys_is_asked_about(advisor: Advisor) -> None:
    (query,) = parse_card(ROLL, "roll", advisor.rule_base).queries
    assert "Emulsion binder on the card, Stitching for the family" in query


def test_what_gathers_nothing_or_is_written_all_the_same_is_a_mistake(advisor: Advisor) -> None:
    rules = advisor.rule_base
    assert not list(gathering_problems(rules))
    kind = rules.kinds["build_up"]
    form = kind.attributes["binders"]
    for spoiled, said in ((form.model_copy(update={"gathers": "reinforcement.areal_mass"}), "which is no choice"),
                          (form.model_copy(update={"kind": "choice"}), "kind several")):
        bad = kind.model_copy(update={"attributes": {**kind.attributes, "binders": spoiled}})
        assert said in next(gathering_problems(replace(rules, kinds={**rules.kinds, "build_up": bad}))).what
