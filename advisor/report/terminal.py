"""The report on a terminal: calm, wrapped to its width, readable without colour."""

from __future__ import annotations

from collections.abc import Iterator
from io import StringIO
from itertools import zip_longest

from rich.cells import cell_len
from rich.console import Console
from rich.text import Text

from advisor.consultation.advice import Advice
from advisor.knowledge.rulebase import RuleBase
from advisor.report import phrases
from advisor.report.blocks import Block, Group, Item, Line, Section, Table, Tone
from advisor.report.columns import GAP, padded, widths_for
from advisor.report.outline import outline
from advisor.report.wording import one_line

NARROWEST, WIDEST = 20, 100
_STYLES: dict[Tone, str] = {"plain": "", "strong": "bold", "alarm": "bold red"}
_BELOW, _GROUP_MARK = "    ", "-- "
_AT_A_GLANCE = 2


def print_advice(advice: Advice, rule_base: RuleBase, console: Console, *, details: bool = False) -> None:
    """Print the report on a rich console, wrapped to its width; `details` adds all the reasoning."""
    for line in _Page(min(console.width, WIDEST), details).lines(advice, rule_base):
        console.print(line, soft_wrap=True, highlight=False)


def plain_text(advice: Advice, rule_base: RuleBase, width: int = 80, *, details: bool = False) -> str:
    """The report as plain text without any escape sequence, at most `width` columns wide."""
    return "".join(f"{line.plain}\n" for line in _Page(width, details).lines(advice, rule_base))


class _Page:
    """Lays blocks out in lines of a given width. Text objects only: nothing in a rule is taken for markup."""

    def __init__(self, width: int, details: bool) -> None:
        self._width = max(width, NARROWEST)
        self._details = details
        self._console = Console(file=StringIO(), width=self._width)

    def lines(self, advice: Advice, rule_base: RuleBase) -> Iterator[Text]:
        """The whole report, line by line."""
        yield from self._title(advice.title)
        for section in outline(advice, rule_base, details=self._details):
            yield Text()
            yield from self._section(section)

    def _section(self, section: Section) -> Iterator[Text]:
        if section.tone == "alarm":
            yield from self._set_apart(section)
            return
        yield from self._heading(section.heading)
        yield from self._blocks(section.blocks)

    def _set_apart(self, section: Section) -> Iterator[Text]:
        bar = Text("=" * self._width, _STYLES["alarm"])
        yield bar
        yield from self._wrap(Text(one_line(section.heading), _STYLES["alarm"]))
        yield from self._blocks(section.blocks)
        yield bar

    def _title(self, text: str) -> Iterator[Text]:
        lines = self._wrap(Text(one_line(text), "bold"))
        yield from lines
        yield Text("=" * max((cell_len(line.plain) for line in lines), default=0))

    def _heading(self, text: str) -> Iterator[Text]:
        """The heading, and a rule on the same line up to the margin."""
        *above, last = self._wrap(Text(one_line(text), "bold"))
        yield from above
        room = self._width - cell_len(last.plain) - 1
        yield last.append(f" {'-' * room}" if room > 0 else "")

    def _blocks(self, blocks: tuple[Block, ...]) -> Iterator[Text]:
        laid = [list(self._block(block)) for block in blocks]
        items = [len(lines) for block, lines in zip(blocks, laid, strict=True) if isinstance(block, Item)]
        airy = sum(items) > _AT_A_GLANCE * len(items)
        for place, lines in enumerate(laid):
            if place and self._details and _needs_air(blocks[place - 1], blocks[place], airy):
                yield Text()
            yield from lines

    def _block(self, block: Block) -> Iterator[Text]:
        if isinstance(block, Group):
            yield from self._wrap(Text(one_line(block.title), "bold"), _GROUP_MARK)
        elif isinstance(block, Table):
            yield from self._table(block)
        elif isinstance(block, Item):
            yield from self._item(block)
        else:
            yield from self._wrap(_styled(block))

    def _item(self, item: Item) -> Iterator[Text]:
        mark = "- " if item.number is None else f"{item.number}. ".rjust(len(_BELOW))
        yield from self._wrap(Text(" ").join(map(_styled, (item.head, *item.tail))), mark)
        for line in item.below:
            yield from self._wrap(_styled(line), phrases.ALARM_MARK if line.tone == "alarm" else _BELOW)

    def _wrap(self, text: Text, mark: str = "") -> list[Text]:
        """`text` in lines, `mark` before the first and blanks of its width before the others."""
        wrapped = text.wrap(self._console, self._width - len(mark), overflow="fold") or [Text()]
        lines = [Text(mark if place == 0 else " " * len(mark)).append_text(line)
                 for place, line in enumerate(wrapped)]
        for line in lines:
            line.rstrip()
        return lines

    def _table(self, table: Table) -> Iterator[Text]:
        columns = [[one_line(text) for text in column] for column in zip(table.headings, *table.rows, strict=True)]
        widths = widths_for(columns, self._width)
        if widths is None:
            yield from self._as_items(table)
            return
        for place, row in enumerate(zip(*columns, strict=True)):
            yield from self._row(row, widths, "bold" if place == 0 else "")
            if place == 0:
                yield Text(GAP.join("-" * width for width in widths))

    def _row(self, row: tuple[str, ...], widths: list[int], style: str) -> Iterator[Text]:
        cells = [Text(text, style).wrap(self._console, width, overflow="fold")
                 for text, width in zip(row, widths, strict=True)]
        for parts in zip_longest(*cells, fillvalue=Text()):
            line = Text(GAP).join(padded(part, width) for part, width in zip(parts, widths, strict=True))
            line.rstrip()
            yield line

    def _as_items(self, table: Table) -> Iterator[Text]:
        first, *others = table.headings
        for row in table.rows:
            rest = list(zip(others, row[1:], strict=True))
            if self._details:
                yield from self._item(Item(Line(row[0], first), tuple(Line(text, name) for name, text in rest)))
            else:
                yield from self._item(Item(Line(f"{row[0]}.", first), tail=tuple(Line(f"{text}.", name)
                                                                                 for name, text in rest)))


def _styled(line: Line) -> Text:
    style = _STYLES[line.tone]
    if line.label is None:
        return Text(one_line(line.text), style)
    return Text(f"{one_line(line.label)}: ", style or "bold").append_text(Text(one_line(line.text)))


def _needs_air(before: Block, after: Block, airy: bool) -> bool:
    """Whether a blank line helps: round tables, before groups, and between items that are long on the whole."""
    if isinstance(before, Group):
        return False
    if isinstance(before, Item) and isinstance(after, Item):
        return airy
    return isinstance(after, Group | Table) or isinstance(before, Table)
