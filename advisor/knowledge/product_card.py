"""Product cards: the maker's own numbers in place of the generic ones of a family.

A card is a small YAML file with fields of this project; docs/product-cards.md shows one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from advisor.errors import InputError, clean_text, near, quoted
from advisor.knowledge import model as m
from advisor.knowledge.gathered import gathered
from advisor.knowledge.numbers import NO_UNIT, PLAIN_UNITS, Number
from advisor.knowledge.rulebase import AttributeValue, Material, RuleBase
from advisor.knowledge.yaml_text import Block, Items, read_file, read_text, require_clean
from advisor.units import format_range, parse_quantity

FORMAT = "1"
KEYS = ("advisor", "product", "kind", "family", "values", "hazards")
LONGEST_NAME = 60
MOST_NUMBERS = 30
LONGEST_HAZARD = 300
MOST_HAZARDS = 20


@dataclass(frozen=True)
class ProductCard:
    """A product in somebody's hand: its name, the family it belongs to, and what its sheet says.

    `queries` are values that lie outside what the family usually has: read the sheet again. `hazards` are the
    maker's own warnings, word for word.
    """

    product: str
    kind: str
    family: str
    values: dict[str, AttributeValue]
    queries: tuple[str, ...]
    hazards: tuple[str, ...] = ()


def read_card(path: Path | str, rule_base: RuleBase) -> ProductCard:
    """Read a card.

    Raises:
        InputError: with file and line, for an unknown field, kind, family or property, a wrong unit, or an
            impossible value.
    """
    data, problems = read_file(Path(path), str(path))
    return _shaped(require_clean(data, problems), str(path), rule_base)


def parse_card(text: str, shown: str, rule_base: RuleBase) -> ProductCard:
    """Read the text of a card; `shown` names it in messages.

    Raises:
        InputError: as `read_card`.
    """
    data, problems = read_text(text, shown)
    return _shaped(require_clean(data, problems), shown, rule_base)


def _shaped(block: Any, shown: str, rule_base: RuleBase) -> ProductCard:
    if not isinstance(block, Block):
        raise InputError("this is not a product card", f"{shown}:1", f"it holds {', '.join(KEYS)}")
    _refuse_unknown(block, KEYS, "a product card has no", shown)
    if "advisor" in block and block["advisor"] != FORMAT:
        raise InputError(f"`advisor` is {quoted(str(block['advisor']))}", _place(block, "advisor", shown),
                         f"cards of version {FORMAT} are read here: `advisor: {FORMAT}`")
    if "advisor" not in block:
        raise InputError(f"`advisor: {FORMAT}` is missing", f"{shown}:1", "write it as the first line")
    product = _word(block, "product", shown)
    if len(product) > LONGEST_NAME:
        raise InputError("the product's name is too long", _place(block, "product", shown),
                         f"at most {LONGEST_NAME} letters")
    kind, family = _word(block, "kind", shown), _word(block, "family", shown)
    _refuse_unless(kind, card_kinds(rule_base), _place(block, "kind", shown))
    if family not in rule_base.materials[kind]:
        others = [other for other in card_kinds(rule_base) if family in rule_base.materials[other]]
        if others:
            raise InputError(f"{quoted(family)} is no family of `{kind}`", _place(block, "family", shown),
                             f"it is of the kind `{others[0]}`; write `kind: {others[0]}`, or a family of `{kind}`: "
                             f"{', '.join(rule_base.materials[kind])}")
    _refuse_unless(family, rule_base.materials[kind], _place(block, "family", shown))
    values = _values(block, rule_base.kinds[kind], shown)
    generic = rule_base.materials[kind][family]
    return ProductCard(product, kind, family, values, tuple(queries_of(values, generic, rule_base.kinds[kind])),
                       _hazards(block, shown))


def card_kinds(rule_base: RuleBase) -> list[str]:
    """The kinds of thing that a card may describe."""
    return [name for name, kind in rule_base.kinds.items() if kind.card == "yes"]


def fields_of(kind: m.Kind) -> dict[str, m.Attribute]:
    """What a card of a kind may hold among its values."""
    return {name: form for name, form in kind.attributes.items() if form.kind not in ("things", "several", "text")}


def with_cards(rule_base: RuleBase, cards: Iterable[ProductCard]) -> RuleBase:
    """The rule base with the values of the cards in place of the generic ones, and their names in the texts.

    Raises:
        InputError: two cards are of one family, and only one of them could be meant.
    """
    materials = {kind: dict(things) for kind, things in rule_base.materials.items()}
    named: dict[tuple[str, str], str] = {}
    for card in cards:
        if (card.kind, card.family) in named:
            first = named[card.kind, card.family]
            raise InputError(f"{quoted(first)} and {quoted(card.product)} are both `{card.family}`", None,
                             "give one card for each family, and use `advisor compare` for the other")
        named[card.kind, card.family] = card.product
        material = materials[card.kind][card.family]
        thing = material.thing
        attributes = {name: written for name, written in thing.attributes.items() if name not in card.values}
        materials[card.kind][card.family] = Material(
            thing.model_copy(update={"label": f"{card.product} ({thing.label})", "attributes": attributes}),
            {**material.values, **card.values})
    return gathered(replace(rule_base, materials=materials))


def _place(block: Block, key: str, shown: str) -> str:
    return f"{shown}:{block.lines.get(key, block.line)}"


def _word(block: Block, key: str, shown: str) -> str:
    value = block.get(key)
    if not isinstance(value, str) or not value.strip():
        raise InputError(f"`{key}` is missing", _place(block, key, shown), f"write `{key}: ...`")
    return " ".join(value.split())


def _refuse_unknown(block: Block, known: Iterable[str], what: str, shown: str) -> None:
    for key in block:
        if key not in known:
            guess = near(key, list(known))
            raise InputError(f"{what} {quoted(key)}", _place(block, key, shown),
                             f"did you mean `{guess}`?" if guess else f"it may hold {', '.join(known)}")


def _refuse_unless(word: str, known: Iterable[str], where: str) -> None:
    names = list(known)
    if word not in names:
        guess = near(word, names)
        raise InputError(f"{quoted(word)} is not known here", where,
                         f"did you mean `{guess}`?" if guess else f"one of {', '.join(names)}")


def _values(block: Block, kind: m.Kind, shown: str) -> dict[str, AttributeValue]:
    values = block.get("values")
    if not isinstance(values, Block) or not values:
        raise InputError("`values:` is missing", _place(block, "values", shown),
                         "below it stands a line for each number of the sheet, indented")
    allowed = fields_of(kind)
    _refuse_unknown(values, allowed, f"a card for `{kind.kind}` has no", shown)
    read = {name: read_value(name, given, allowed[name], _place(values, name, shown))
            for name, given in values.items()}
    for name in reversed(read):
        refuse_crossed(name, read, kind, _place(values, name, shown))
    return read


def refuse_crossed(name: str, values: Mapping[str, AttributeValue], kind: m.Kind, where: str | None) -> None:
    """Refuse a value that lies on the wrong side of another of the card, such as a widest gap below the narrowest.

    Raises:
        InputError: naming both, with what they are.
    """
    for upper, form in kind.attributes.items():
        if form.not_below is None or name not in (upper, form.not_below):
            continue
        high, low = values.get(upper), values.get(form.not_below)
        if isinstance(high, Number) and isinstance(low, Number) and high.value < low.value:
            shown = [format_range(one.low, one.value, one.high, one.unit) for one in (high, low)]
            label = kind.attributes[form.not_below].label
            raise InputError(f"{form.label.lower()} ({shown[0]}) is below {label.lower()} ({shown[1]})", where,
                             "read both on the sheet again; they may have been exchanged")


def _hazards(block: Block, shown: str) -> tuple[str, ...]:
    given, where = block.get("hazards"), _place(block, "hazards", shown)
    lines = tuple(given) if isinstance(given, Items) else () if given is None else (given,)
    if len(lines) > MOST_HAZARDS:
        raise InputError(f"there are {len(lines)} hazards", where, f"the gravest {MOST_HAZARDS} at most")
    return tuple(read_hazard(line, where) for line in lines)


def read_hazard(given: Any, where: str | None) -> str:
    """One warning of the maker, with single spaces.

    Raises:
        InputError: it is empty, too long or cannot be printed.
    """
    text = " ".join(given.split()) if isinstance(given, str) else ""
    if not text or clean_text(text, LONGEST_HAZARD) != text:
        raise InputError("a line of `hazards` is empty, too long or holds a sign that cannot be printed", where,
                         f"a sentence of at most {LONGEST_HAZARD} signs, as the maker wrote it")
    return text


def read_value(name: str, given: Any, form: m.Attribute, where: str | None) -> AttributeValue:
    """A value of a card as typed: a text, or a list of texts for several quantities.

    Raises:
        InputError: a wrong unit, an impossible number, or a word that is not among the choices.
    """
    try:
        if form.kind == "quantity":
            return _number(name, given, form)
        if form.kind == "quantities":
            texts = given if isinstance(given, list) else [given]
            if not texts:
                raise InputError(f"`{name}` has no number", where, f"for instance `[{_example(form)}]`")
            if len(texts) > MOST_NUMBERS:
                raise InputError(f"`{name}` has {len(texts)} numbers", where, f"at most {MOST_NUMBERS} are read")
            return tuple(_number(name, text, form).value for text in texts)
    except InputError as error:
        raise InputError(error.what, where, error.help) from error
    words = list(form.values) if form.kind == "choice" else ["yes", "no"]
    if not isinstance(given, str) or given not in words:
        raise InputError(f"`{name}` is {quoted(str(given))}", where, f"one of {', '.join(words)}")
    return given


def _example(form: m.Attribute) -> str:
    return f"5 {form.unit}" if form.unit and form.unit != NO_UNIT else "5"


def _number(name: str, given: Any, form: m.Attribute) -> Number:
    if not isinstance(given, str):
        raise InputError(f"`{name}` must be a quantity", None, f"for instance `{_example(form)}`")
    unit = form.unit or NO_UNIT
    read = parse_quantity(given, unit, plausible=form.plausible, name=name, bare_ok=unit in PLAIN_UNITS)
    return Number(read.value, read.low, read.high, unit)


def queries_of(values: dict[str, AttributeValue], generic: Material, kind: m.Kind) -> Iterable[str]:
    """What lies outside the family's range, or is said otherwise of the family: a query, not a refusal."""
    for name, value in values.items():
        usual = generic.values.get(name)
        if isinstance(value, Number) and isinstance(usual, Number) and usual.is_range \
                and not usual.low <= value.value <= usual.high:
            given, range_ = (format_range(n.low, n.value, n.high, n.unit) for n in (value, usual))
            yield f"{kind.attributes[name].label}: {given} on the card, {range_} for the family. Read the sheet again."
        elif isinstance(value, str) and isinstance(usual, str) and value != usual:
            labels = kind.attributes[name].values
            yield (f"{kind.attributes[name].label}: {labels.get(value, value)} on the card, {labels.get(usual, usual)} "
                   "for the family. Read the sheet again; perhaps the product belongs to another family.")


