"""The blocks of a sheet as HTML, apart from steps and clocks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import groupby

from advisor.drawings import HALF, Drawing
from advisor.report.blocks import Group, Item, Line, Table
from advisor.sheet import words
from advisor.sheet.markup import Markup, joined, tag
from advisor.sheet.parts import Figure, Margin, Margins, Reading, Signal, Thing, ToConfirm

_ONE_LINE, _LONG_TABLE = 20, 5
# A printed block with more signs than these may end in the next column: one kept whole that is taller than what is
# left of the first page would push all that follows on to the second.
_KEPT_WHOLE = 700
TIME_LINE = "time-line"
_ALARM = {"thin": "alarm", "doubtful": "alarm", "fails": "alarm fails"}
_NUMBER_AND_UNIT = re.compile(r"(?<=\d) (?=(?:mm|cm|m|in|ft|g|kg|mL|min|h|°[CF])\b|\d+/\d)")


def box(key: str, label: str) -> Markup:
    """A box to tick; its state is kept under `key`."""
    return tag("input", type="checkbox", class_="box", id=key, data_key=key, aria_label=label, autocomplete="off")


def blank(key: str, label: str, hint: str | None = None, *, number: bool = False, wide: bool = False) -> Markup:
    """A blank to type or write into, named for whoever cannot see where it stands."""
    return tag("input", type="text", inputmode="decimal" if number else None, data_key=key, placeholder=hint,
               aria_label=label, autocomplete="off", maxlength="200", class_="blank wide" if wide else "blank")


def kept(names: str, *texts: str | None) -> str:
    """The classes of a block, one more where its texts are too long to be kept whole on paper."""
    return names if sum(len(text or "") for text in texts) <= _KEPT_WHOLE else f"{names} splits".strip()


def labelled(line: Line) -> Markup:
    """A paragraph's inside, its label before it."""
    label = tag("b", line.label, ": ") if line.label else None
    text: Markup | str = line.text if line.tone == "plain" else tag("strong", line.text)
    return joined(label, text)


def signal(block: Signal) -> Markup:
    """A caution under its signal word."""
    reason = tag("details", tag("summary", words.REASON), tag("p", block.because), class_="why")
    return tag("div", tag("p", tag("b", block.signal, class_="word"), " ", block.text),
               reason if block.because else None,
               class_=kept("signal strong" if block.strong else f"signal {block.signal.lower()}", block.text))


def figures(blocks: Iterable[Figure]) -> Markup:
    """Drawings side by side where there is room; each names itself and tells in words what it shows."""
    return tag("div", (_figure(block.drawing) for block in blocks), class_="figures")


def _figure(drawing: Drawing) -> Markup:
    return tag("figure", tag("figcaption", drawing.title), Markup(drawing.svg), _key(drawing.key),
               _day_start() if drawing.id == TIME_LINE else None, id=f"figure-{drawing.id}",
               class_=kept("half" if drawing.width == HALF else "", *(said for _, said in drawing.key)) or None)


def _key(entries: Iterable[tuple[str, str]]) -> Markup:
    """What the signs of a drawing stand for; what has no sign stands below."""
    return tag("ul", (tag("li", tag("b", sign) if sign else None, tag("span", _together(said)),
                          class_=None if sign else "plain") for sign, said in entries), class_="key")


def _together(text: str) -> str:
    """A text in which no line ends between a number and its unit."""
    return _NUMBER_AND_UNIT.sub("\N{NO-BREAK SPACE}", text)


def _day_start() -> Markup:
    """Where the hour of the start is set; the times of the drawing follow it."""
    return tag("label", tag("span", words.DAY_START), tag("input", type="time", data_key="day-start", class_="blank",
                                                          autocomplete="off"), class_="day-start script")


def things(blocks: Iterable[Thing]) -> Markup:
    """What to buy or lay out, one box each; what needs no amount runs on more closely."""
    return tag("ul", (_thing(block) for block in blocks), class_="things")


def _thing(block: Thing) -> Markup:
    return tag("li", tag("label", box(block.id, block.what), tag("span", tag("b", block.what),
               joined(" ", tag("span", block.how_much, class_="much")) if block.how_much else None,
               tag("span", " ", block.note, class_="note") if block.note else None)),
               class_=kept("", block.what, block.how_much, block.note) or None)


def readings(blocks: Iterable[Reading]) -> Markup:
    """Readings with blanks; the time stands beside each, because conditions change."""
    return tag("div", (_reading(block) for block in blocks), class_="readings")


def _reading(block: Reading) -> Markup:
    unit = {"C": "°C / °F", "percent": "%"}.get(block.unit or "", block.unit or "")
    return tag("div", tag("p", tag("b", block.name), tag("span", f" {words.GO_WHEN}: ", class_="small-label"),
                          block.go_when),
               tag("p", blank(block.id, f"{block.name}: {words.MEASURED}", number=block.unit is not None),
                   tag("span", unit, class_="unit") if unit else None,
                   tag("span", f" {words.AT} "), blank(f"{block.id}-at", f"{block.name}: {words.AT}"), class_="fill"),
               class_=kept("reading", block.name, block.go_when))


def confirms(blocks: Iterable[ToConfirm]) -> Markup:
    """Numbers of the maker with what is taken until then, and a blank for each, under the name of the product."""
    return joined(joined(tag("h3", about) if about else None, tag("ul", map(_confirm, group), class_="confirm"))
                  for about, group in groupby(blocks, key=lambda block: block.about))


def _confirm(block: ToConfirm) -> Markup:
    used = tag("span", f" {words.UNTIL_THEN.lower()} ", block.used, class_="much") if block.used else None
    return tag("li", tag("span", f"{block.number[:1].upper()}{block.number[1:]}", used, " "),
               blank(block.id, f"{words.ON_THE_SHEET}: {block.text}", words.ON_THE_SHEET, wide=True), " ",
               class_=kept("", block.number, block.used) or None)


def margins(block: Margins) -> Markup:
    """The margins; the formula with its numbers and its source unfold below each."""
    ample = "; ".join(row.cells[0] for row in block.rows if row.verdict not in _ALARM)
    return joined(_table(block.headings, (_margin(row, block.headings) for row in block.rows), "margins"),
                  tag("p", tag("b", words.ENOUGH, ": "), ample, class_="margins-ample") if ample else None)


def _margin(row: Margin, headings: tuple[str, ...]) -> Markup:
    reason = tag("details", tag("summary", row.cells[0]),
                 tag("p", row.formula), tag("p", f"{words.SOURCE}: {row.source}"), class_="why")
    return tag("tr", tag("td", reason), map(_cell, row.cells[1:], headings[1:]),
               class_=_ALARM.get(row.verdict))


def table(block: Table) -> Markup:
    """A table of the report."""
    above = ((), *block.rows)
    return _table(block.headings, (tag("tr", (
        _cell(cell, heading, place > 0 and before[place:place + 1] == (cell,))
        for place, (cell, heading) in enumerate(zip(row, block.headings, strict=True))))
        for before, row in zip(above, block.rows, strict=False)),
        "plain long" if len(block.rows) >= _LONG_TABLE else "plain")


def _cell(text: str, heading: str, same: bool = False) -> Markup:
    """A cell with its heading, which a small screen shows beside it; what is short enough stays on one line, and what
    is the same as above may be left out in print."""
    return tag("td", tag("span", text, class_="same") if same else text, data_heading=heading,
               class_="num" if len(text) <= _ONE_LINE else None)


def _table(headings: Iterable[str], rows: Iterable[Markup], kind: str) -> Markup:
    head = tag("thead", tag("tr", (tag("th", name, scope="col") for name in headings)))
    return tag("div", tag("table", head, tag("tbody", rows), class_=kind), class_="scroll", tabindex="0", role="group",
               aria_label=", ".join(headings))


def plain(blocks: Iterable[Line | Item | Table | Group]) -> Iterator[Markup]:
    """Blocks that the sheet shares with the report; items next to each other become one list."""
    items: list[Markup] = []
    for block in blocks:
        if isinstance(block, Item):
            items.append(_item(block))
            continue
        if items:
            yield tag("ul", items, class_="plain")
            items = []
        if isinstance(block, Group):
            yield tag("h3", block.title)
        elif isinstance(block, Table):
            yield table(block)
        else:
            yield tag("p", labelled(block))
    if items:
        yield tag("ul", items, class_="plain")


def _item(item: Item) -> Markup:
    below = tag("ul", (tag("li", labelled(line)) for line in item.below)) if item.below else None
    tail = (tag("span", " ", labelled(line), class_="tail") for line in item.tail)
    return tag("li", labelled(item.head), tail, below)
