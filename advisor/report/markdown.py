"""The report as Markdown (CommonMark with pipe tables)."""

from __future__ import annotations

import re
from collections.abc import Iterator

from advisor.consultation.advice import Advice
from advisor.knowledge.rulebase import RuleBase
from advisor.report.blocks import Block, Group, Item, Line, Section, Table
from advisor.report.outline import outline
from advisor.report.wording import one_line

_SPECIAL = re.compile(r"([\\`*_\[\]<>|~&])")
_LIST_MARK = re.compile(r"^([-+=#]|\d+(?=[.)](?:\s|$)))")


def render(advice: Advice, rule_base: RuleBase, *, details: bool = False) -> str:
    """The report as a Markdown document; `details` adds all the reasoning."""
    parts = [f"# {escape(advice.title)}"]
    for section in outline(advice, rule_base, details=details):
        parts += [f"## {escape(section.heading)}", *blocks_text(section)]
    return "\n\n".join(parts) + "\n"


def escape(text: str) -> str:
    """`text` on one line with everything that Markdown or HTML would obey taken literally."""
    flat = _SPECIAL.sub(r"\\\1", one_line(text))
    return _LIST_MARK.sub(lambda mark: mark[1] + "\\" if mark[1].isdigit() else "\\" + mark[1], flat)


def blocks_text(section: Section) -> Iterator[str]:
    """The blocks of a section, each as a paragraph, list or table."""
    items: list[str] = []
    for block in section.blocks:
        if isinstance(block, Item):
            items.append(_item(block))
            continue
        if items:
            yield "\n".join(items)
            items = []
        yield _block(block)
    if items:
        yield "\n".join(items)


def _block(block: Block) -> str:
    if isinstance(block, Group):
        return f"### {escape(block.title)}"
    if isinstance(block, Table):
        return _table(block)
    return _line(block) if isinstance(block, Line) else _item(block)


def _item(item: Item) -> str:
    mark = f"{item.number}. " if item.number is not None else "- "
    head = " ".join(map(_line, (item.head, *item.tail)))
    return "\n".join([mark + head, *(" " * len(mark) + "- " + _line(line) for line in item.below)])


def _line(line: Line) -> str:
    if line.label is None:
        return escape(line.text) if line.tone == "plain" else f"**{escape(line.text)}**"
    return f"**{escape(line.label)}:** {escape(line.text)}"


def _table(table: Table) -> str:
    rule = tuple("---" for _ in table.headings)
    return "\n".join(_row(cells) for cells in (tuple(map(escape, table.headings)), rule,
                                                  *(tuple(map(escape, row)) for row in table.rows)))


def _row(cells: tuple[str, ...]) -> str:
    return f"| {' | '.join(cells)} |"
