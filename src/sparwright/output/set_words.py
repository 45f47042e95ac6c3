"""Words, numbers and formulas of a report as typst takes them: every piece a quoted string."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence

from sparwright.base.check import Check, Step
from sparwright.base.quantity import to
from sparwright.output.fonts import FAMILY
from sparwright.output.shown import Unit, decimals, enough, figure, margin, unit_of, with_unit
from sparwright.reports.page import Amount, Cell, Column, Link, Mark

SERIF = "Libertinus Serif"
IN = to(1.0, "in")
OWN: Mapping[str, Mapping[str, Unit]] = {  # what strength is told in, where it differs from the rest of the program
    "inch": {
        "m2": Unit("in²", IN**2), "m3": Unit("in³", IN**3), "m4": Unit("in⁴", IN**4),
        "N m": Unit("lbf in", to(1.0, "lbf") * IN), "N/m": Unit("lbf/in", to(1.0, "lbf") / IN),
        "N m2": Unit("lbf in²", to(1.0, "lbf") * IN**2), "N m/m": Unit("lbf in/in", to(1.0, "lbf")),
    },
    "millimetre": {
        "m2": Unit("mm²", 1e6), "m3": Unit("mm³", 1e9), "m4": Unit("mm⁴", 1e12), "N m": Unit("N m", 1.0),
        "N/m": Unit("N/mm", 1e-3), "N m2": Unit("N m²", 1.0),
    },
}  # fmt: skip
GREEK = {"alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "eta": "η", "theta": "θ", "lambda": "λ", "mu": "μ", "nu": "ν",
         "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "omega": "ω", "sqrt": "√"}  # fmt: skip
SIGNS = ((">=", "≥"), ("<=", "≤"), ("+-", "±"), ("-+", "∓"), (" - ", " − "))
LETTER = re.compile(r"(?<![A-Za-z_])([A-Za-z]{1,6})(?:_([A-Za-z0-9]+))?(?![A-Za-z_])")
POWER = re.compile(r"\^(\(?-?[0-9./]+\)?|[a-z])")


def quoted(text: str) -> str:
    """A string of typst's code.

    >>> quoted('1/8" bolt')
    '"1/8\\\\" bolt"'
    """
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ") + '"'


def words(text: str) -> str:
    """Running text."""
    return quoted(text)


def shown_as(si: str, units: str, id: str = "") -> Unit:
    """How an SI unit is shown in the strength report."""
    return OWN.get(units, {}).get(si) or unit_of(si, units, id)


def shown_unit(si: str) -> str:
    """An SI unit with its powers raised.

    >>> shown_unit("rad/s2"), shown_unit("kg m2"), shown_unit("1")
    ('rad/s²', 'kg m²', '')
    """
    return "" if si == "1" else re.sub(r"(?<=[a-z])([234])", lambda m: "²³⁴"[int(m[1]) - 2], si)


def number(value: float, unit: Unit) -> str:
    """Figures alone, in a unit.

    >>> number(0.0254, Unit("in", 1 / 0.0254))
    '1'
    """
    shown = value * unit.factor
    if not math.isfinite(shown):
        return "∞" if math.isinf(shown) else "unknown"
    if shown and not 1e-4 <= abs(shown) < 1e8:
        return f"{shown:.4g}".replace("e-0", " × 10^-").replace("e+0", " × 10^").replace("e-", " × 10^-").replace("e+", " × 10^").replace("-", "−")
    return figure(shown, enough(decimals(shown), shown))


def amount(value: float, si: str, units: str, id: str = "") -> str:
    """A number in the designer's unit with SI behind it in brackets where that differs.

    >>> amount(4448.2216, "N", "inch").replace(chr(160), " ")
    '1,000 lbf (4448 N)'
    """
    unit = shown_as(si, units, id)
    name = shown_unit(unit.name)
    if not math.isfinite(value):
        return "∞" if math.isinf(value) else "unknown"
    text = with_unit(number(value, unit), name)
    if unit.factor == 1.0:
        return text
    return f"{text} ({with_unit(f'{value:.4g}'.replace('-', '−'), shown_unit(si))})"


def head(column: Column, units: str) -> str:
    """A column's title with its unit."""
    if column.unit in ("", "1"):
        return column.title
    name = "%" if column.unit == "%" else shown_unit(shown_as(column.unit, units).name)
    return f"{column.title}, {name}".replace(" ", " ")


def cell(value: Cell, column: Column, units: str, ids: set[str]) -> str:
    """One cell of a table."""
    match value:
        case Amount(value=v) if column.unit == "%":
            return f"[#{quoted(margin(v).removesuffix('%').strip() if math.isfinite(v) else '')}]"
        case Amount(value=v):
            return f"[#{quoted(_in_column(v, column.unit, units))}]"
        case Mark(verdict=v):
            return f'[#mark("{v}") #{quoted(v)}]'
        case Link(text=text, id=id):
            return f"[#link(label({quoted(id)}), {quoted(text)})]" if id in ids else f"[#{quoted(text)}]"
    return f"[#{quoted(str(value))}]"


def _in_column(value: float, si: str, units: str) -> str:
    if not math.isfinite(value):
        return ""
    if si in ("", "1"):
        return f"{value:.3f}".replace("-", "−")
    return number(value, shown_as(si, units))


def working_head(c: Check, sums: str) -> Iterator[str]:
    """What stands over the working of a check: mark, title, sums, part, case, rule, method, caveat. It is linked to."""
    title = f"#heading(level: 3, numbering: none, outlined: false, {quoted(c.title[:1].upper() + c.title[1:])})"
    yield f"{title} #label({quoted(c.id)})\n"
    yield f'#block(below: 0.5em, sticky: true)[#sans[#mark("{c.verdict}") #h(2pt) #strong({quoted(c.verdict)}): #{quoted(sums)}]]\n'
    told = [(n, t) for n, t in (("id", c.id), ("part", c.part), ("case", c.case), ("rule", c.rule), ("method", c.method),
                                ("to be said", c.caveat)) if t]  # fmt: skip
    rows = ", ".join(f"[#{quoted(n)}], [#{quoted(t)}]" for n, t in told)
    yield f"#table(columns: (auto, 1fr), inset: (x: 3pt, y: 1.4pt), {rows})\n"


def steps(lines: Sequence[Step], units: str) -> Iterator[str]:
    """Lines of working, each kept whole on a page."""
    for n, s in enumerate(lines, 1):
        given = ",  ".join(f"{formula_text(k)} = {amount(v, u, units)}" for k, v, u in s.given)
        source = f' #h(6pt) #text(font: "{FAMILY}", size: 9pt)[#{quoted(s.source)}]' if s.source else ""
        put = f"#linebreak() #{quoted(given)}" if given else ""
        yield (
            f'#block(breakable: false, above: 0.75em, below: 0.75em, inset: (left: 16pt))[#place(dx: -16pt, sans[{n}.]) '
            f"#sans[#{quoted(s.title[:1].upper() + s.title[1:])}]{source} #linebreak() {formula(s.formula)}{put}"
            f"#linebreak() = #strong({quoted(amount(s.value, s.unit, units))})]\n"
        )


def formula_text(text: str) -> str:
    """A formula or a letter of it as plain text, Greek letters and signs as such.

    >>> formula_text("sqrt(rho) >= 2")
    '√(ρ) ≥ 2'
    """
    for old, new in SIGNS:
        text = text.replace(old, new)
    return LETTER.sub(lambda m: GREEK.get(m[1], m[1]) + (f"_{m[2]}" if m[2] else ""), text)


def formula(text: str) -> str:
    """A formula with lowered and raised letters, as typst's content."""
    for old, new in SIGNS:
        text = text.replace(old, new)
    pieces: list[str] = []
    at = 0
    for m in sorted([*LETTER.finditer(text), *POWER.finditer(text)], key=lambda m: m.start()):
        if m.start() < at:
            continue
        pieces.append(f"#{quoted(text[at : m.start()])}")
        if m.re is POWER:
            pieces.append(f"#super({quoted(m[1].strip('()').replace('-', '−'))})")
        else:
            letter = GREEK.get(m[1], m[1])
            lone = len(letter) <= 2 and letter != "√"
            pieces.append(f"#emph({quoted(letter)})" if lone or m[2] else f"#{quoted(letter)}")
            pieces.extend([f"#sub({quoted(m[2])})"] if m[2] else [])
        at = m.end()
    pieces.append(f"#{quoted(text[at:])}")
    return "".join(p for p in pieces if p != '#""')
