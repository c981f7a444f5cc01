"""The sheet as one self-contained HTML page."""

from __future__ import annotations

import base64
import dataclasses
import hashlib
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from importlib import resources
from itertools import groupby
from typing import Any

from advisor.consultation.advice import Advice
from advisor.drawings import HALF, Drawing
from advisor.knowledge.rulebase import RuleBase
from advisor.report.blocks import Table
from advisor.sheet import blocks_html, words, work_html
from advisor.sheet.clocks import Typed, data_of, embedded
from advisor.sheet.markup import Markup, joined, tag
from advisor.sheet.order import sheet_of
from advisor.sheet.parts import (
    Figure,
    Margins,
    Mixing,
    Part,
    Reading,
    Record,
    Sheet,
    Signal,
    Step,
    Thing,
    ToConfirm,
    WorkingTime,
)

_TOGETHER: dict[type, Callable[[Any], Markup]] = {
    Figure: blocks_html.figures, Step: work_html.steps, Thing: blocks_html.things,
    Reading: blocks_html.readings, ToConfirm: blocks_html.confirms}
_ALONE: dict[type, Callable[[Any], Markup]] = {
    Signal: blocks_html.signal, Mixing: work_html.mixing, WorkingTime: work_html.working_time,
    Margins: blocks_html.margins, Record: work_html.record}
_TITLE_SHOWN = 160
# The size and width of print by the number of signs on paper; nothing is smaller than 8 points.
_DENSITIES = ((9_300, "large"), (11_500, "middle"), (24_600, "small"), (34_800, "narrow"), (36_800, "narrow tight"),
              (40_000, "narrow tight tightest"), (10**9, "narrow tight tightest fullest"))
_NOT_PRINTED = frozenset({"id", "number", "because", "source", "formula", "colder"})
# In type of 8 points a column of three takes so many signs; a unit of a drawing is 57.5 mm / 320 high.
_SIGNS_OF_A_LINE, _SIGNS_OF_A_UNIT = 60, 3.5


@cache
def asset(name: str) -> str:
    """The text of a file that is packed into the page."""
    return resources.files("advisor.sheet").joinpath("assets", name).read_text(encoding="utf-8")


def render(advice: Advice, rule_base: RuleBase, typed: Typed | None = None) -> str:
    """The page.

    Args:
        advice: what the consultation returned.
        rule_base: the rules it was made with, for phases and sources.
        typed: the answers as they were typed, for the record that the page saves.
    """
    sheet = sheet_of(advice, rule_base)
    script = asset("sheet.js")
    data = embedded(data_of(sheet, advice, typed or {}))
    return "<!DOCTYPE html>\n" + tag(
        "html", _head(sheet, script), tag(
            "body", _header(sheet), _contents(sheet),
            tag("main", (_part(part) for part in sheet.parts), _footer(sheet)),
            tag("div", id="running", class_="script", role="region", aria_label=words.CLOCKS),
            tag("div", id="said", role="alert", class_="unseen"),
            tag("script", Markup(data), type="application/json", id="job"), tag("script", Markup(script))),
        lang="en", class_=_density(sheet)) + "\n"


def _density(sheet: Sheet) -> str:
    """How small the print is: a long sheet must still fit on three pages, a short one may be read from afar."""
    signs = sum(map(_signs, (part.blocks for part in sheet.parts if part.on_paper)))
    names = next(names for limit, names in _DENSITIES if signs <= limit)
    return " ".join(f"print-{name}" for name in names.split())


def _signs(value: object) -> int:
    """How much of the paper a value takes, in signs of its texts; reasons and notices are left out there."""
    if isinstance(value, str):
        return len(value)
    if isinstance(value, Figure):
        return _of_drawing(value.drawing)
    if isinstance(value, Mixing):
        return _SIGNS_OF_A_LINE * len(value.batches) + _signs((value.amounts, value.note))
    if isinstance(value, Table):
        return sum(max(_signs(row), _SIGNS_OF_A_LINE) for row in value.rows)
    if isinstance(value, Signal) and value.signal == words.SIGNAL["note"]:
        return 0
    if dataclasses.is_dataclass(value):
        return sum(_signs(getattr(value, field.name)) for field in dataclasses.fields(value)
                   if field.name not in _NOT_PRINTED)
    return sum(map(_signs, value)) if isinstance(value, tuple | list) else 0


def _of_drawing(drawing: Drawing) -> int:
    """A drawing with its key, which stands beside a narrow one and below a wide one."""
    drawn, told = drawing.height * _SIGNS_OF_A_UNIT, _signs(drawing.key)
    return round(max(drawn, 2 * told) if drawing.width == HALF else drawn + told)


def _head(sheet: Sheet, script: str) -> Markup:
    """The policy lets the one script run and forbids everything else, any request above all."""
    mark = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    policy = (f"default-src 'none'; script-src 'sha256-{mark}'; style-src 'unsafe-inline'; base-uri 'none'; "
              "form-action 'none'")
    return tag("head", tag("meta", charset="utf-8"),
               Markup(f'<meta http-equiv="Content-Security-Policy" content="{policy}">'),
               tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
               tag("meta", name="referrer", content="no-referrer"),
               tag("title", _short(sheet.title)), tag("style", Markup(asset("sheet.css"))))


def _short(title: str) -> str:
    return title if len(title) <= _TITLE_SHOWN else title[:_TITLE_SHOWN - 1] + "…"


def _header(sheet: Sheet) -> Markup:
    today = tag("p", tag("b", words.TODAY[sheet.today], class_="word"), " ",
                tag("a", words.TODAY_HEADING, href="#today"), class_=f"verdict {sheet.today}") if sheet.today else None
    return tag("header", tag("h1", tag("bdi", _short(sheet.title))), tag("p", sheet.verdict, class_="lead"), today,
               tag("p", words.DISCLAIMER, class_="small"),
               tag("noscript", tag("p", words.NO_SCRIPT, class_="small")))


def _contents(sheet: Sheet) -> Markup:
    links = (tag("li", tag("a", part.heading, href=f"#{part.id}")) for part in sheet.parts)
    return tag("nav", tag("details", tag("summary", words.CONTENTS), tag("ul", links)), aria_label=words.CONTENTS)


def _footer(sheet: Sheet) -> Markup:
    return tag("footer", tag("p", sheet.stamp, class_="small"))


def _part(part: Part) -> Markup:
    inside = tuple(_blocks(part.blocks))
    classes = " ".join(filter(None, ("alarm" if part.alarm else "", "" if part.on_paper else "screen")))
    heading = tag("h2", part.heading)
    if part.folded:
        return tag("section", tag("details", tag("summary", heading), inside, class_="fold"), id=part.id,
                   class_=classes or None)
    return tag("section", heading, inside, id=part.id, class_=classes or None)


def _blocks(blocks: Iterable[Any]) -> Iterator[Markup]:
    """Blocks of one kind next to each other are written together where they form a list."""
    for kind, group in groupby(blocks, key=_kind):
        if kind in _TOGETHER:
            yield _TOGETHER[kind](group)
        elif kind in _ALONE:
            yield joined(_ALONE[kind](block) for block in group)
        else:
            yield from blocks_html.plain(group)


def _kind(block: object) -> type:
    return type(block) if type(block) in _TOGETHER or type(block) in _ALONE else object


