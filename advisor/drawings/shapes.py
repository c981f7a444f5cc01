"""A drawing as SVG: shapes in units of the page, written by ElementTree so that no text can become markup.

A page 360 px wide has about 320 px inside its margins; drawn 320 units wide, text of 16 units is at least 16 px there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from unicodedata import category
from xml.etree import ElementTree as ET

WIDTH = 320.0
HALF = 152.0  # with its key beside it
ACCENT = "#0b5563"
Point = tuple[float, float]
Entry = tuple[str, str]
# Patterns by name: strokes in a square tile; the difference shows in black and white.
_PATTERNS: dict[str, tuple[float, str]] = {
    "old": (7, "M0 7 L7 0"), "mat": (6, "M1 2 L3 1 M4 5 L5 3"), "woven": (6, "M0 3 H6 M3 0 V6"),
    "bed": (4, "M2 1.4 V2.6"), "core": (12, "M0 3 L6 9 L12 3"), "hard": (5, "M0 0 L5 5 M0 5 L5 0"),
    "solid": (2, "M0 0.5 H2 M0 1.5 H2")}


@dataclass(frozen=True)
class Drawing:
    """A drawing for the page.

    `description` tells in sentences what the drawing shows, with the numbers; `svg` is one element without outside
    references; `key` says what its signs stand for, and what has no sign (''); `parts` holds the same geometry in the
    units of the job (mm, min, °C), for tests and scripts; `width` and `height` are those of the page in units.
    """

    id: str
    title: str
    description: str
    svg: str
    key: tuple[Entry, ...] = ()
    parts: Mapping[str, Any] = field(default_factory=dict)
    width: float = WIDTH
    height: float = 0.0


def clean(text: str) -> str:
    """A text without signs that XML does not allow or that do not print or turn the direction of writing."""
    return "".join(sign if category(sign) not in ("Cc", "Cs", "Cn", "Cf", "Co") else " " for sign in text)


class Canvas:
    """Shapes one after another; `bottom` grows with what is drawn."""

    def __init__(self, name: str, width: float = WIDTH) -> None:
        self.name = name
        self.width = width
        self.bottom = 0.0
        self._body: list[ET.Element] = []
        self._used: list[str] = []

    def _add(self, tag: str, low: float, text: str | None, /, **attributes: str | float) -> None:
        element = ET.Element(tag, {name.rstrip("_").replace("_", "-"): _number(value)
                                   for name, value in attributes.items()})
        element.text = clean(text) if text is not None else None
        self._body.append(element)
        self.bottom = max(self.bottom, low)

    def shape(self, points: Sequence[Point], pattern: str | None = None, weight: float = 1.0, /,
              **data: str | float) -> None:
        """A closed outline, filled with a pattern where one is named, else with the ground."""
        if pattern and pattern not in self._used:
            self._used.append(pattern)
        path = " ".join(f"{_number(x)},{_number(y)}" for x, y in points)
        low = max(y for _, y in points)
        self._add("polygon", low, None, points=path, class_="ground", fill="#fff", stroke="none")
        self._add("polygon", low, None, points=path, fill=f"url(#{self.name}-{pattern})" if pattern else "none",
                  stroke="currentColor", stroke_width=weight, stroke_linejoin="round", **data)

    def box(self, x: float, y: float, width: float, height: float, pattern: str | None = None, /,
            **data: str | float) -> None:
        """A rectangle."""
        self.shape([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], pattern, 1.0, **data)

    def line(self, start: Point, end: Point, style: str = "", weight: float = 1.0, accent: bool = False) -> None:
        """A straight line; `style` is a pattern of dashes."""
        more = {"stroke_dasharray": style} if style else {}
        self._add("line", max(start[1], end[1]), None, x1=start[0], y1=start[1], x2=end[0], y2=end[1],
                  class_="accent" if accent else "line", stroke=ACCENT if accent else "currentColor",
                  stroke_width=weight, **more)

    def path(self, points: Iterable[Point], style: str = "", weight: float = 2.0) -> None:
        """An open line through points."""
        every = list(points)
        more = {"stroke_dasharray": style} if style else {}
        self._add("polyline", max(y for _, y in every), None,
                  points=" ".join(f"{_number(x)},{_number(y)}" for x, y in every),
                  class_="accent", fill="none", stroke=ACCENT, stroke_width=weight, **more)

    def dot(self, at: Point, radius: float = 2.2, /, **data: str | float) -> None:
        """A full dot."""
        self._add("circle", at[1] + radius, None, cx=at[0], cy=at[1], r=radius, fill="currentColor", **data)

    def text(self, at: Point, said: str, anchor: str = "start", bold: bool = False, /,
             **data: str | float) -> None:
        """One line of text on its base line."""
        self._add("text", at[1] + 5, said, x=at[0], y=at[1], text_anchor=anchor, class_="words",
                  fill="currentColor", font_weight="bold" if bold else "normal", **data)

    def mark(self, at: Point, sign: str) -> None:
        """A sign in a ring."""
        self._add("circle", at[1] + 11, None, cx=at[0], cy=at[1], r=11, class_="ground", fill="#fff",
                  stroke="currentColor")
        self.text((at[0], at[1] + 5.5), sign, "middle")

    def span(self, left: float, right: float, y: float, sign: str) -> None:
        """A dimension line with its sign below the middle."""
        self.line((left, y), (right, y), weight=0.8, accent=True)
        for x in (left, right):
            self.line((x - 3, y + 3), (x + 3, y - 3), weight=1.2, accent=True)
        self.text(((left + right) / 2, y + 18), sign, "middle")

    def drawing(self, title: str, description: str, key: Iterable[Entry], parts: Mapping[str, Any]) -> Drawing:
        """What was drawn, with the key to its signs; lines of the key without words are left out."""
        return Drawing(self.name, title, description, self.svg(title, description),
                       tuple((sign, said) for sign, said in key if said), parts, self.width, self.bottom)

    def svg(self, title: str, description: str) -> str:
        """The whole element."""
        root = ET.Element("svg", {
            "xmlns": "http://www.w3.org/2000/svg", "class": "drawing", "role": "img", "font-size": "16",
            "viewBox": f"0 0 {_number(self.width)} {_number(self.bottom + 6)}", "width": "100%",
            "aria-labelledby": f"{self.name}-title {self.name}-desc"})
        ET.SubElement(root, "title", {"id": f"{self.name}-title"}).text = clean(title)
        ET.SubElement(root, "desc", {"id": f"{self.name}-desc"}).text = clean(description)
        if self._used:
            defs = ET.SubElement(root, "defs")
            for name in self._used:
                size, strokes = _PATTERNS[name]
                tile = ET.SubElement(defs, "pattern", {"id": f"{self.name}-{name}", "width": str(size),
                                                       "height": str(size), "patternUnits": "userSpaceOnUse"})
                ET.SubElement(tile, "path", {"d": strokes, "stroke": "currentColor", "stroke-width": "0.7",
                                             "fill": "none", "stroke-linecap": "round"})
        root.extend(self._body)
        return ET.tostring(root, encoding="unicode")


def _number(value: str | float) -> str:
    return clean(value) if isinstance(value, str) else f"{value:.2f}".rstrip("0").rstrip(".")
