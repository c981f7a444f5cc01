"""What runs along a length or a time: the bead, the batches and waits of the day, working time by temperature."""

from __future__ import annotations

from math import ceil, floor

from advisor.calculators.cure import working_time_min
from advisor.drawings.numbers import Job
from advisor.drawings.shapes import HALF, WIDTH, Canvas, Drawing
from advisor.units.present import format_quantity

_FORMS = ("zigzag", "rows")
_AROUND_K = 12
_FEW_BARS, _MANY_BARS = 6, 12
_COLDEST_C, _HOTTEST_C = -10.0, 100.0
_TICKS_MIN = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 720, 1440, 2880)


def changes(packs_mL: tuple[float, ...], volume_mL: float, length_mm: float) -> list[float]:
    """Where along the bead each new pack is taken, mm, when the volume is spread evenly over the length."""
    reached, found = 0.0, []
    for pack in packs_mL[:-1]:
        reached += pack * length_mm / volume_mL
        if reached < length_mm:
            found.append(reached)
    return found


def bead(job: Job) -> Drawing | None:
    """The bead along the joint with the places where a new pack is taken."""
    length, volume = job.mm("bead", "length"), job.in_unit("bead", "volume", "mL")
    if not length or not volume or not job.drawn.packs_mL:
        return None
    at = changes(job.drawn.packs_mL, volume, length)
    starts = [0.0, *at]  # their signs stand above and below the bead in turn
    crowded = any((far - near) * (HALF - 28) / length < 24 for near, far in zip(starts, starts[2:], strict=False))
    canvas, left = Canvas("bead", WIDTH if crowded else HALF), 14.0
    scale = (canvas.width - 28) / length
    canvas.box(left, 44, length * scale, 26)
    _laid(job, canvas, left, left + length * scale)
    canvas.mark((left, 18), "1")
    canvas.line((left, 29), (left, 44))
    for number, place in enumerate(at, 2):
        x = left + place * scale
        y = 18 if number % 2 else 96
        canvas.line((x, y + 11 if y < 44 else y - 11), (x, 72 if y < 44 else 42), weight=1.4)
        canvas.mark((x, y), str(number))
    canvas.span(left, left + length * scale, 116 if at else 86, "a")
    sizes = [job.said(pack, "mL") for pack in job.drawn.packs_mL]
    packs = [f"Pack of {sizes[0]} from the start"]
    packs += [f"Pack of {sizes[number]} from {job.said(place)}" for number, place in enumerate(at, 1)]
    said = ("Reckoned with the likely amount, with squeeze-out and losses, spread evenly." if at
            else "One pack lasts for the whole bead by the likely amount.")
    form = next(filter(None, map(job.key, _FORMS)), "")
    key = [*((str(number), text) for number, text in enumerate(packs, 1)), ("a", f"Joint {job.said(length)} long"),
           ("", form), ("", said)]
    described = " ".join((f"Bead along a joint of {job.said(length)}.", f"{'; '.join(packs)}.", *(
        f"{text.rstrip('.')}." for text in (form, said) if text)))
    return canvas.drawing("Bead of adhesive", described, key, {"length_mm": length, "changes_mm": at, "scale": scale})


def _laid(job: Job, canvas: Canvas, left: float, right: float) -> None:
    """The adhesive as it is laid: one line unless the rules name a zigzag or rows."""
    if job.has("zigzag"):
        turns = round((right - left) / 6.5)
        canvas.path([(left + step * (right - left) / turns, 57 + (6 if step % 2 else -6)) for step in range(turns + 1)],
                    weight=3)
        return
    for y in (52.0, 62.0) if job.has("rows") else (57.0,):
        canvas.path([(left, y), (right, y)], weight=4)


def time_line(job: Job) -> Drawing | None:
    """Batches against minutes from the start; below them the waits and hold points in order."""
    batches, clocks = job.advice.batches, job.advice.working_times
    bars = [(str(one.number), one.start_min, one.start_min + one.place_within_min, one.start_min + one.stop_at_min)
            for one in batches]
    if not bars and clocks:
        bars = [("1", 0.0, clocks[0].time_min.low, clocks[0].time_min.likely)]
    if not bars:
        return None
    last = max(stop for *_, stop in bars)
    every = next((one for one in _TICKS_MIN if last / one <= 5), 2880 * ceil(last / 14400))
    canvas, left = Canvas("time-line"), 34.0
    end = ceil(last / every) * every
    scale = (WIDTH - left - 22) / end
    tall, apart, every_sign = (20.0, 8.0, 1) if len(bars) <= _FEW_BARS else (15.0, 8.0, 1) if len(bars) <= _MANY_BARS \
        else (6.0, 2.0, 3)
    low = 32 + (tall + apart) * len(bars)
    for tick in range(0, end + 1, every):
        x = left + tick * scale
        canvas.line((x, 26), (x, low), "1 3", 0.8)
        canvas.text((x, 18), f"{tick // 60}:{tick % 60:02d}" if end >= 60 else f"{tick}", "middle",
                    data_clock_min=float(tick))
    for row, (sign, start, place, stop) in enumerate(bars):
        y = 34.0 + (tall + apart) * row
        if row % every_sign == 0:
            canvas.text((0, y + tall / 2 + 5.5), sign, "start", True)
        canvas.box(left + place * scale, y, max(stop - place, 0) * scale, tall, data_from_min=place, data_to_min=stop)
        canvas.box(left + start * scale, y, (place - start) * scale, tall, "hard", data_batch=sign,
                   data_from_min=start, data_to_min=place)
    if batches:
        key = "Hatched: mix and place. Open: work may still be rolled; stop at its end."
    else:
        key = "Hatched: the shortest working time. Open: up to the likely one." if last > bars[0][2] else \
            "Hatched: working time."
    unit = "Hours and minutes" if end >= 60 else "Minutes"
    entries: list[tuple[str, str]] = [("", f"{unit} from the start, or the hour once it is set. {key}")]
    held = [step for step in job.advice.steps if step.wait or step.hold_point]
    for step in held:
        if step.wait and step.duration:
            entries.append(("", f"Step {step.number}: {step.duration}"))
    stops = ", ".join(str(step.number) for step in held if step.hold_point)
    told = "; ".join(f"{sign} from {start:g} min, placed by {place:.3g} min, stop at {stop:.3g} min"
                     for sign, start, place, stop in bars)
    described = f"Times from the start. {told}. " + " ".join(text for _, text in entries[1:]) + (
        f" Hold points at steps {stops}." if stops else "")
    return canvas.drawing("The day by the clock", described, entries, {
        "bars_min": bars, "scale": scale, "steps": [step.number for step in held]})


def working_time(job: Job) -> Drawing | None:
    """Working time against temperature, by the computation that the advice used, with today marked."""
    if not job.advice.working_times:
        return None
    line = job.advice.working_times[0]
    today, minutes = line.temperature_C, line.time_min.likely
    first = floor(max(_COLDEST_C, today - _AROUND_K))
    until = ceil(min(_HOTTEST_C, today + _AROUND_K))
    points = [(float(one), working_time_min(minutes, today, one, line.activation_energy_kJ_mol))
              for one in range(first, until + 1)]
    most = points[0][1]
    every = next((one for one in _TICKS_MIN if most / one <= 5), 2880 * ceil(most / 14400))
    top_min = ceil(most / every) * every
    canvas, left, low, tall = Canvas("working-time", HALF), 44.0, 136.0, 110.0
    across, up = (HALF - left - 14) / (until - first), tall / top_min

    def place(temperature: float, time: float) -> tuple[float, float]:
        return left + (temperature - first) * across, low - time * up

    for tick in range(0, top_min + 1, every):
        y = low - tick * up
        canvas.line((left, y), (HALF - 2, y), "" if tick == 0 else "1 3", 0.8)
        canvas.text((left - 6, y + 5), f"{tick}", "end")
    step = 10
    for tick in range(ceil(first / step) * step, until + 1, step):
        x = place(tick, 0)[0]
        canvas.line((x, low), (x, low + 5))
        canvas.text((x, low + 22), job.temperature(tick).split()[0], "middle")
    canvas.path([place(*point) for point in points])
    x, y = place(today, minutes)
    canvas.line((x, low), (x, y), "5 3", 1.2)
    canvas.line((left, y), (x, y), "5 3", 1.2)
    canvas.dot((x, y), 5, data_temperature=today, data_minutes=minutes)
    canvas.text((x + 10, y - 10), "today", "start", True)
    unit = job.temperature(today).split()[1]  # of the first number, as at the ticks
    shown = format_quantity(minutes, "min")
    key = [("", f"{line.about}. Up: minutes. Across: {unit}."),
           ("", f"Today {job.temperature(today)}: {shown} (likely).")]
    described = (f"Working time against temperature. {line.about}: {shown} at {job.temperature(today)} today. "
                 + "; ".join(f"{job.temperature(one)}: {format_quantity(time, 'min')}" for one, time in points[::4])
                 + ".")
    return canvas.drawing("Working time by temperature", described, key, {
        "points": points, "today": (today, minutes)})


def every_kind(job: Job) -> list[Drawing]:
    """Bead, day and curve, where there is something to draw."""
    return [one for one in (bead(job), time_line(job), working_time(job)) if one is not None]
