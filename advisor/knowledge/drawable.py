"""What can be drawn of a job, and which measures each part needs or may have, with the unit they are drawn in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Drawable:
    """One part of a drawing: the measures it cannot be drawn without, and those that it may do without."""

    needs: Mapping[str, str] = field(default_factory=dict)
    may: Mapping[str, str] = field(default_factory=dict)

    @property
    def measures(self) -> Mapping[str, str]:
        """All measures with their units."""
        return {**self.needs, **self.may}


def _mm(*names: str) -> Mapping[str, str]:
    return dict.fromkeys(names, "mm")


SECTIONS: Mapping[str, Drawable] = {
    "slope": Drawable(_mm("thickness", "taper"), _mm("opening")),
    "edge_to_edge": Drawable(_mm("thickness"), _mm("gap")),
    "overlap": Drawable(_mm("thickness", "overlap")),
    "lap_edge": Drawable(_mm("thickness"), _mm("gap")),
    "standing": Drawable(_mm("thickness"), _mm("gap")),
    "corner": Drawable(_mm("thickness"), _mm("gap")),
    "bubble": Drawable(_mm("thickness", "across", "along", "hole", "pitch")),
    "hollow": Drawable(_mm("thickness", "across", "rim"), _mm("depth")),
    "seam": Drawable(_mm("thickness", "width", "bed")),
}
"""What a section is built on; the first that the rules name is drawn."""

PARTS: Mapping[str, Drawable] = {
    **SECTIONS,
    # what lies in, on or under the section
    "core": Drawable(), "free_edge": Drawable(), "backing": Drawable(may=_mm("across")), "both_sides": Drawable(),
    "coat": Drawable(_mm("margin")), "bed": Drawable(_mm("thickness")), "filled_gap": Drawable(),
    "ramp": Drawable(_mm("length")),
    "fillet": Drawable(_mm("leg")), "strip_behind": Drawable(_mm("across")), "angle": Drawable(_mm("leg")),
    "fasteners": Drawable({"count": "count", **_mm("shank", "head", "edge")}, _mm("pitch")),
    "press": Drawable(), "skin": Drawable(), "first_hole": Drawable(), "holes": Drawable(), "filling": Drawable(),
    "film": Drawable(), "rail": Drawable(), "screw": Drawable(), "note": Drawable(),
    # names
    "part_a": Drawable(), "part_b": Drawable(), "upright": Drawable(), "base": Drawable(), "side": Drawable(),
    # other drawings
    "opening": Drawable(_mm("length", "width")),
    "bead": Drawable({"length": "mm", "volume": "mL"}), "zigzag": Drawable(), "rows": Drawable(),
}
"""Every part that a rule may name in `draw`."""
