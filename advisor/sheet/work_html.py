"""Steps, batches, working times and the record as HTML."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.report.running import sentence
from advisor.sheet import words
from advisor.sheet.blocks_html import blank, box, kept, readings
from advisor.sheet.clocks import COMPUTATION, slider_ends
from advisor.sheet.markup import Markup, joined, tag
from advisor.sheet.parts import Mixing, Record, Step, WorkingTime
from advisor.units import format_range


def steps(blocks: Iterable[Step]) -> Markup:
    """The steps of one phase."""
    return tag("ol", (_step(block) for block in blocks), class_="steps")


def _step(block: Step) -> Markup:
    told = [tag("p", tag("b", label, ": "), text, " ", class_=kind) for label, text, kind in (
        (words.TIME, block.duration and _told(block.duration), "time"), (words.RIGHT, block.right_when, "right"),
        (words.IF_NOT, block.if_not, "ifnot")) if text]
    clock = block.wait is not None or block.hold is not None
    reason = tag("details", tag("summary", words.REASON if block.judged else words.REASON_AND_NOTE),
                 tag("div", tag("p", block.because), tag("p", f"{words.SOURCE}: {block.source}", class_="source"),
                     None if block.judged else _note(block)), class_="why")
    return tag("li", tag("label", box(block.id, f"{words.STEP} {block.number} {words.DONE.lower()}"),
                         tag("span", str(block.number), class_="no"), class_="tick"),
               tag("div", tag("p", block.text, " ", class_="do"), told, _hold(block) if block.hold else None,
                   _result(block) if block.judged else None,
                   tag("div", _clock(f"clock-{block.id}", known=block.wait is not None) if clock else None, reason,
                       class_="more")),
               class_=kept("step", block.text, block.right_when, block.if_not, block.hold), value=str(block.number))


def _told(duration: str) -> str:
    """A time as a sentence; on paper no word stands before it."""
    return sentence(f"{duration[:1].upper()}{duration[1:]}")


def _hold(block: Step) -> Markup:
    passed = tag("label", box(f"{block.id}-hold", f"{words.STEP} {block.number}, {words.HOLD}: {words.HOLD_PASSED}"),
                 tag("span", words.HOLD_PASSED), class_="passed")
    return tag("div", tag("p", tag("b", words.HOLD, class_="word"), " ", block.hold, " "), passed, class_="hold")


def _result(block: Step) -> Markup:
    options = (tag("option", text or words.RESULT, value=text)
               for text in ("", words.RESULT_RIGHT, words.RESULT_NOT, words.RESULT_NONE))
    return tag("p", tag("select", options, data_key=f"{block.id}-result", autocomplete="off",
                        aria_label=f"{words.STEP} {block.number}: {words.RESULT}"), _note(block), class_="result fill")


def _note(block: Step) -> Markup:
    return blank(f"{block.id}-note", f"{words.STEP} {block.number}: {words.NOTE}", words.NOTE, wide=True)


def _clock(key: str, *, known: bool) -> Markup:
    """A clock, shown only where there is a script; where no time is known, the minutes are typed."""
    start = tag("button", words.START, type="button", class_="start")
    if known:
        return tag("div", start, tag("output", role="timer"), class_="clock script", data_clock=key)
    minutes = tag("label", words.MINUTES, " ", tag("input", type="text", inputmode="decimal", class_="minutes",
                                                   maxlength="6", autocomplete="off"))
    return tag("details", tag("summary", words.SET_CLOCK),
               tag("div", minutes, start, tag("output", role="timer"), class_="clock", data_clock=key),
               class_="own script")


def mixing(block: Mixing) -> Markup:
    """The mixing table with blanks for what was done, and a clock for every batch."""
    amounts = tag("ul", (tag("li", tag("b", item), " ", tag("span", amount, class_="much"))
                         for item, amount in block.amounts), class_="amounts")
    cards = (_batch(number, row, block.headings) for number, row in
             ((batch.number, row) for batch, row in zip(block.batches, block.rows, strict=True)))
    alike = len({_of_each(row) for row in block.rows}) == 1
    return tag("div", tag("h3", words.MIXING), amounts if block.amounts else None,
               _each(block) if alike else None,
               tag("div", cards, class_="batches alike" if alike else "batches"),
               tag("p", block.note, class_="small"), class_="mixing")


def _of_each(row: tuple[str, ...]) -> tuple[str, ...]:
    """The cells of a batch that may be the same for all: not its number and not its start."""
    return row[1:2] + row[3:]


def _each(block: Mixing) -> Markup:
    """Said once on paper, when it is the same for every batch."""
    told = "; ".join(f"{heading.lower()} {cell}" for heading, cell in zip(
        _of_each(block.headings), _of_each(block.rows[0]), strict=True))
    return tag("p", tag("b", words.EACH_BATCH, ": "), told, class_="printed")


def _batch(number: int, row: tuple[str, ...], headings: tuple[str, ...]) -> Markup:
    name = f"{headings[0]} {row[0]}"
    facts = tag("dl", ((tag("dt", heading), tag("dd", cell)) for heading, cell in
                       zip(headings[1:], row[1:], strict=True)))
    done = tag("div", (tag("label", tag("span", label), blank(f"batch-{number}-{key}", f"{name}: {label}", hint))
                       for label, key, hint in ((words.MIXED_AT, "at", None),
                                                (words.MIX_TEMPERATURE, "temperature", words.TEMPERATURE_UNIT),
                                                (words.MASS_MIXED, "mass", words.MASS_UNIT))), class_="done")
    clock = tag("div", tag("button", words.START_BATCH, type="button", class_="start"), tag("output", role="timer"),
                class_="clock script", data_clock=f"batch-{number}")
    return tag("div", tag("label", box(f"batch-{number}", f"{name} {words.DONE.lower()}"), tag("b", name),
                          class_="tick"), facts, clock, done, class_="batch")


def working_time(block: WorkingTime) -> Markup:
    """The planned working time, and with a script the slider that works it out anew."""
    line = block.line
    low, high = slider_ends(line)
    planned = format_range(line.time_min.low, line.time_min.likely, line.time_min.high, "min")
    command = (f"advisor compute {COMPUTATION} reference_time_min={line.time_min.likely:g} "
               f"reference_temperature_C={line.temperature_C:g} temperature_C={line.temperature_C:g} "
               f"activation_energy_kJ_mol={line.activation_energy_kJ_mol:g}")
    slider = tag("div", tag("label", words.SLIDER, for_=f"{block.id}-slider"),
                 tag("input", type="range", id=f"{block.id}-slider", min=f"{low:g}", max=f"{high:g}", step="0.5",
                     value=f"{line.temperature_C:g}", autocomplete="off"),
                 tag("output", for_=f"{block.id}-slider", class_="reckoned"),
                 tag("p", class_="advice", role="status"),
                 tag("p", words.CLOCKS_FOLLOW, class_="small"),
                 tag("details", tag("summary", words.COMMAND), tag("p", words.SAME_FORMULA),
                     tag("code", command), class_="why"), class_="slider script")
    return tag("div", tag("h3", f"{words.WORKING_TIME}: {line.about}"),
               tag("p", tag("span", planned, class_="much"), f" {words.AT_PLANNED}, {_degrees(line.temperature_C)}."),
               tag("p", line.warmer, class_="paper small"), slider,
               _clock(f"clock-{block.id}", known=True) if block.clock else None,
               class_=kept("time-card", line.warmer), data_time=block.id)


def _degrees(celsius: float) -> str:
    return f"{celsius:.1f} °C ({celsius * 9 / 5 + 32:.1f} °F)".replace(".0 ", " ")


def record(block: Record) -> Markup:
    """Room for the rest of the record, and what is done with it."""
    notes = tag("label", tag("span", words.NOTES), tag("textarea", data_key="notes", rows="4", maxlength="4000",
                                                       autocomplete="off"), class_="notes")
    who = tag("label", tag("span", words.WHO_AND_WHEN), blank("who", words.WHO_AND_WHEN, wide=True), class_="notes")
    buttons = tag("p", tag("button", words.SAVE, type="button", id="save"),
                  tag("button", words.PRINT, type="button", id="print"),
                  tag("label", tag("input", type="checkbox", id="with-reasons", class_="box"), words.PRINT_REASONS,
                      class_="tick"),
                  tag("button", words.CLEAR, type="button", id="clear", class_="quiet"), class_="buttons script")
    return joined(readings(block.readings) if block.readings else None, who, notes, buttons,
                  tag("p", words.KEPT, id="kept", class_="small script"),
                  tag("p", words.RECORD_USE, class_="small script"))
