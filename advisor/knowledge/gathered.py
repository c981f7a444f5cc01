"""Attributes that a thing has by what it is made of: a build-up the binders of its glasses."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from advisor.errors import Problem
from advisor.knowledge import model as m
from advisor.knowledge.rulebase import Material, RuleBase


def parts_of(rule_base: RuleBase, material: Material, gathers: str) -> Iterator[Material]:
    """The things that a thing is made of, of the kind whose attribute is gathered (`reinforcement.binder`)."""
    kind = gathers.partition(".")[0]
    for name, form in rule_base.kinds[material.thing.kind].attributes.items():
        listed = material.values.get(name)
        if form.kind == "things" and form.of == kind and isinstance(listed, tuple):
            yield from (rule_base.materials[kind][str(id_)] for id_ in listed if id_ in rule_base.materials[kind])


def gathering(kind: m.Kind) -> dict[str, str]:
    """The attributes of a kind that are gathered, and from what."""
    return {name: form.gathers for name, form in kind.attributes.items() if form.gathers}


def gathered(rule_base: RuleBase) -> RuleBase:
    """The rule base with every gathered attribute as the things stand now; a card may have changed them."""
    kinds, materials = dict(rule_base.kinds), dict(rule_base.materials)
    for kind in rule_base.kinds.values():
        wanted, forms = dict[str, str](), dict(kind.attributes)
        for name, source in gathering(kind).items():
            if found := _source(rule_base, source):
                wanted[name] = source
                forms[name] = forms[name].model_copy(update={"values": found.values})
        if wanted:
            kinds[kind.kind] = kind.model_copy(update={"attributes": forms})
            materials[kind.kind] = {id_: Material(one.thing, {**one.values, **_words(rule_base, one, wanted)})
                                    for id_, one in materials[kind.kind].items()}
    return replace(rule_base, kinds=kinds, materials=materials)


def gathering_problems(rule_base: RuleBase) -> Iterator[Problem]:
    """Attributes that gather what is not there, or are written though they are gathered."""
    for kind in rule_base.kinds.values():
        for name, form in kind.attributes.items():
            if bool(form.gathers) != (form.kind == "several"):
                yield Problem(f"`{kind.kind}.{name}` must have kind several and `gathers:`, or neither", kind.where,
                              "write `gathers: kind.attribute`")
            elif form.gathers and not _source(rule_base, form.gathers):
                yield Problem(f"`{kind.kind}.{name}` gathers `{form.gathers}`, which is no choice", kind.where,
                              "write `gathers: kind.attribute` of a kind that the things are made of")
        for name, form in kind.attributes.items():
            if form.not_below is not None and form.not_below not in kind.attributes:
                yield Problem(f"`{kind.kind}.{name}` cannot lie below `{form.not_below}`, which is not there",
                              kind.where, "name another number of the same kind")
        for material in rule_base.materials[kind.kind].values():
            for name in gathering(kind).keys() & material.thing.attributes.keys():
                yield Problem(f"`{material.id}.{name}` is gathered from what it is made of", material.thing.where,
                              "leave it out here")


def _source(rule_base: RuleBase, gathers: str) -> m.Attribute | None:
    kind, _, attribute = gathers.partition(".")
    form = rule_base.kinds[kind].attributes.get(attribute) if kind in rule_base.kinds else None
    return form if form and form.kind == "choice" else None


def _words(rule_base: RuleBase, material: Material, wanted: Mapping[str, str]) -> dict[str, tuple[str, ...]]:
    found = {name: tuple(dict.fromkeys(
        str(part.values[attribute]) for part in parts_of(rule_base, material, source)
        if (attribute := source.partition(".")[2]) in part.values)) for name, source in wanted.items()}
    return {name: words for name, words in found.items() if words}
