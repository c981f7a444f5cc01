"""The sheet as Markdown, with boxes to tick and lines to write on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.consultation.advice import Advice
from advisor.knowledge.rulebase import RuleBase
from advisor.report.blocks import Block, Line, Table
from advisor.report.blocks import Section as ReportSection
from advisor.report.markdown import blocks_text, escape
from advisor.sheet import words
from advisor.sheet.order import sheet_of
from advisor.sheet.parts import (
    Figure,
    Margins,
    Mixing,
    Part,
    Reading,
    Record,
    SheetBlock,
    Signal,
    Step,
    Thing,
    ToConfirm,
    WorkingTime,
)
from advisor.units import format_range

BLANK = "\\_\\_\\_\\_\\_\\_\\_\\_"
BOX = "- [ ] "


def render(advice: Advice, rule_base: RuleBase) -> str:
    """The sheet as a Markdown document (CommonMark with pipe tables and task lists)."""
    sheet = sheet_of(advice, rule_base)
    head = [f"# {escape(sheet.title)}", f"**{escape(sheet.verdict)}**"]
    if sheet.today:
        head.append(f"**{words.TODAY[sheet.today]}**")
    head.append(escape(words.DISCLAIMER))
    return "\n\n".join([*head, *(text for part in sheet.parts for text in _part(part)), escape(sheet.stamp)]) + "\n"


def _part(part: Part) -> Iterator[str]:
    yield f"## {escape(part.heading)}"
    lines: list[str] = []
    for block in part.blocks:
        if isinstance(block, Thing | Reading | Step | ToConfirm):
            lines.append("\n".join(_entry(block)))
            continue
        if lines:
            yield "\n".join(lines)
            lines = []
        yield from _block(block)
    if lines:
        yield "\n".join(lines)


def _entry(block: Thing | Reading | Step | ToConfirm) -> Iterator[str]:
    """One entry of a list of boxes."""
    if isinstance(block, Thing):
        yield BOX + " ".join(filter(None, (f"**{escape(block.what)}**", block.how_much and escape(block.how_much),
                                           block.note and escape(block.note))))
    elif isinstance(block, Reading):
        yield f"{BOX}**{escape(block.name)}:** {BLANK} {words.AT} {BLANK}. {words.GO_WHEN}: {escape(block.go_when)}"
    elif isinstance(block, ToConfirm):
        used = f" ({words.UNTIL_THEN.lower()} {escape(block.used)})" if block.used else ""
        yield f"{BOX}{escape(block.text)}{used}: {BLANK}"
    else:
        yield f"{BOX}**{block.number}.** {escape(block.text)}"
        for label, text in ((words.TIME, block.duration), (words.RIGHT, block.right_when),
                            (words.IF_NOT, block.if_not), (words.HOLD, block.hold), (words.REASON, block.because)):
            if text:
                yield f"  - **{label}:** {escape(text)}"


def _block(block: SheetBlock) -> Iterator[str]:
    if isinstance(block, Figure):
        yield f"**{escape(block.drawing.title)}:** {escape(block.drawing.description)}"
    elif isinstance(block, Signal):
        yield f"**{block.signal}** {escape(block.text)}"
    elif isinstance(block, Mixing):
        yield from _mixing(block)
    elif isinstance(block, WorkingTime):
        time = block.line.time_min
        yield (f"**{words.WORKING_TIME}: {escape(block.line.about)}:** "
               f"{escape(format_range(time.low, time.likely, time.high, 'min'))}. {escape(block.line.warmer)}")
    elif isinstance(block, Margins):
        yield _report(Table(block.headings, tuple(row.cells for row in block.rows)))
    elif isinstance(block, Record):
        yield "\n".join(line for reading in block.readings for line in _entry(reading))
        yield f"{words.WHO_AND_WHEN}: {BLANK}"
        yield f"{words.NOTES}: {BLANK}"
    elif not isinstance(block, Thing | Reading | Step | ToConfirm):
        yield _report(block)


def _mixing(block: Mixing) -> Iterator[str]:
    yield f"### {words.MIXING}"
    blanks = (words.MIXED_AT, f"{words.MIX_TEMPERATURE}, {words.TEMPERATURE_UNIT}")
    yield _report(Table((*block.headings, *blanks), tuple((*row, "", "") for row in block.rows)))
    yield _report(*(Line(amount, item) for item, amount in block.amounts))
    yield escape(block.note)


def _report(*blocks: Block) -> str:
    return "\n\n".join(_all(blocks))


def _all(blocks: Iterable[Block]) -> Iterator[str]:
    yield from blocks_text(ReportSection("", "", tuple(blocks)))
