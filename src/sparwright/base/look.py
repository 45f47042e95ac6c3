"""One look for sheet, picture and page: ground, ink, line weights, type sizes, in one place.

Everything reads on a black-and-white printer: meaning is in shape, line and word first. The accent marks
only what needs a person's hand. Contrast on the ground: ink over 7 : 1, rule over 4.5 : 1, accent over 7 : 1
(relative luminance and contrast ratio as wcag-2-1 defines them; a test measures them).
"""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number


@dataclass(frozen=True, kw_only=True)
class Look:
    """The values every writer draws with. Lengths in millimetres on paper."""

    ground: str = "#faf7f0"  # warm paper white; a printed sheet keeps the paper's own
    ink: str = "#10192e"  # blue-black
    rule: str = "#5c6370"  # grey rules
    accent: str = "#8a2a0b"  # only what needs a person's hand
    faint: str = "#d2d1cc"  # grid of a chart, which carries no meaning of its own
    tones: tuple[tuple[str, str], ...] = (  # areas, light to dark; ink reads on each at 7 : 1
        ("ground", "#faf7f0"),
        ("light", "#e6e3dc"),
        ("middle", "#cdcbc6"),
    )
    thin: float = number("mm", "thin line", 0.18)
    thick: float = number("mm", "thick line, twice the thin one", 0.36)
    small: float = number("mm", "height of capitals in notes; nothing on a sheet is smaller", 3.5)
    middle: float = number("mm", "height of capitals in part headings", 5.0)
    large: float = number("mm", "height of capitals in sheet titles", 7.0)
    pitch: float = number("1", "from line to line of lettering, in heights of capitals", 1.75)
    family: str = "Source Sans Pro"
    dashes: tuple[tuple[str, tuple[float, ...]], ...] = (
        ("solid", ()),
        ("dash", (4.0, 2.0)),
        ("chain", (10.0, 2.0, 1.5, 2.0)),
    )
    chart_dashes: tuple[tuple[str, tuple[float, ...]], ...] = (  # what five lines of a chart need beside those
        ("dots", (0.7, 1.1)),
        ("pairs", (3.5, 0.9, 0.6, 0.9, 0.6, 0.9)),
    )
    shorter: float = number("1", "length of a dash in a chart, as a part of its length on a sheet", 0.5)

    def dash(self, name: str) -> tuple[float, ...]:
        """Lengths of stroke and gap, mm, of a named dash; KeyError for another name."""
        return dict((*self.dashes, *self.chart_dashes))[name]

    def tone(self, name: str) -> str:
        """Colour of a named tone; KeyError for another name."""
        return dict(self.tones)[name]


LOOK = Look()


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours "#rrggbb": (L1 + 0.05)/(L2 + 0.05), L the relative luminance.

    Source: wcag-2-1, definitions of contrast ratio and relative luminance (memory).

    >>> round(contrast("#ffffff", "#000000"), 1)
    21.0
    """
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
