"""Words, numbers and formulas of a report as typst takes them: every piece a quoted string."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from sparwright.base.check import Check, Step
from sparwright.base.quantity import to
from sparwright.output.fonts import FAMILY
from sparwright.output.shown import Unit, decimals, enough, figure, margin, unit_of, with_unit
from sparwright.reports.page import PART, Amount, Cell, Column, Link, Mark

SERIF = "Libertinus Serif"
KEPT = 12  # lines that stay together on a page
IN = to(1.0, "in")
OWN: Mapping[str, Mapping[str, Unit]] = {  # what strength is told in, where it differs from the rest of the program
    "inch": {
        "m2": Unit("in²", IN**2),
        "m3": Unit("in³", IN**3),
        "m4": Unit("in⁴", IN**4),
        "N m": Unit("lbf in", to(1.0, "lbf") * IN),
        "N/m": Unit("lbf/in", to(1.0, "lbf") / IN),
        "N m2": Unit("lbf in²", to(1.0, "lbf") * IN**2),
        "N m/m": Unit("lbf in/in", to(1.0, "lbf")),
    },
    "millimetre": {
        "m2": Unit("mm²", 1e6),
        "m3": Unit("mm³", 1e9),
        "m4": Unit("mm⁴", 1e12),
        "N m": Unit("N m", 1.0),
        "N/m": Unit("N/mm", 1e-3),
        "N m2": Unit("N m²", 1.0),
    },
}
GREEK = {
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "eta": "η",
    "theta": "θ",
    "lambda": "λ",
    "mu": "μ",
    "nu": "ν",
    "pi": "π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "phi": "φ",
    "omega": "ω",
    "sqrt": "√",
}
SIGNS = ((">=", "≥"), ("<=", "≤"), ("+-", "±"), ("-+", "∓"), (" - ", " − "))
MINUS = re.compile(r"(?<![A-Za-z0-9^_])-(?=[A-Za-z0-9(])")
LETTER = re.compile(r"(?<![A-Za-z_])([A-Za-z]{1,6})(?:_([A-Za-z0-9]+))?(?![A-Za-z_])")
POWER = re.compile(r"\^(\([^()]*\)|-?[0-9]+(?:\.[0-9]+)?|[a-z])")
WORDS = frozenset(
    "at by in is it of on or to as an be no so up".split()
)  # two letters that are no product of quantities
SI = {
    "Pa": Unit("MPa", 1e-6),
    "m": Unit("mm", 1e3),
    "m2": Unit("mm²", 1e6),
    "m3": Unit("mm³", 1e9),
    "m4": Unit("mm⁴", 1e12),
    "N/m": Unit("N/mm", 1e-3),
}  # what stands in brackets; N, mm and MPa go together


def quoted(text: str) -> str:
    """A string of typst's code.

    >>> quoted('1/8" bolt')
    '"1/8\\\\" bolt"'
    """
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ") + '"'


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
    """Figures alone, in a unit: four that mean something, large and small ones as a power of ten.

    >>> number(0.0254, Unit("in", 1 / 0.0254)), number(1.972e12, Unit("Pa", 1.0)), number(2.5e-6, Unit("", 1.0))
    ('1', '1.972 × 10¹²', '2.5 × 10⁻⁶')
    """
    shown = value * unit.factor
    if not math.isfinite(shown):
        return "∞" if math.isinf(shown) else "unknown"
    if shown and not 1e-4 <= abs(shown) < 1e8:
        digits, power = f"{shown:.3e}".split("e")
        raised = str(int(power)).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
        return f"{digits.rstrip('0').rstrip('.')} × 10{raised}".replace("-", "−")
    return figure(shown, enough(decimals(shown), shown))


def amount(value: float, si: str, units: str, id: str = "") -> str:
    """A number in the designer's unit with SI behind it in brackets where that differs.

    >>> amount(4448.2216, "N", "inch").replace(chr(160), " ")
    '1,000 lbf (4,448 N)'
    """
    unit = shown_as(si, units, id)
    name = shown_unit(unit.name)
    if not math.isfinite(value):
        return "∞" if math.isinf(value) else "unknown"
    text = with_unit(number(value, unit), name)
    if unit.factor == 1.0:
        return text
    plain = SI.get(si) or Unit(si, 1.0)
    return text if plain.name == unit.name else f"{text} ({with_unit(number(value, plain), shown_unit(plain.name))})"


def head(column: Column, units: str) -> str:
    """A column's title with its unit."""
    if column.unit in ("", "1"):
        return column.title
    name = "%" if column.unit in ("%", PART) else shown_unit(shown_as(column.unit, units).name)
    return f"{column.title}, {name}".replace(" ", " ")


def cell(value: Cell, column: Column, units: str, ids: set[str]) -> str:
    """One cell of a table."""
    match value:
        case Amount(value=v) if column.unit == "%":
            return f"[#{quoted(margin(v).removesuffix('%').strip() if math.isfinite(v) else '')}]"
        case Amount(value=v) if column.unit == PART:
            return f"[#{quoted(figure(100 * v, 1) if math.isfinite(v) else '')}]"
        case Amount(value=v, unit=own, before=words) if own:
            return f"[#{quoted(f'{words} {_with_its_unit(v, own, units)}'.strip())}]"
        case Amount(value=v):
            return f"[#{quoted(_in_column(v, column.unit, units))}]"
        case Mark(verdict=v):
            return f'[#mark("{v}")~#{quoted(v)}]'
        case Link():
            return _link(value, ids)
    return f"[#{quoted(str(value))}]"


def _link(value: Link, ids: set[str]) -> str:
    under = f" #linebreak() #{quoted(value.under)}" if value.under else ""
    if value.id not in ids:
        return f"[#{quoted(value.text)}{under}]"
    return f"[#link(label({quoted(value.id)}), {quoted(value.text)}) #page-of({quoted(value.id)}){under}]"


def _with_its_unit(value: float, si: str, units: str) -> str:
    """A number in the designer's unit with that unit beside it.

    >>> _with_its_unit(0.5, "rad", "inch").replace(chr(160), " "), _with_its_unit(1.25, "1", "inch")
    ('28.65 deg', '1.25')
    """
    unit = shown_as(si, units)
    return with_unit(number(value, unit), shown_unit(unit.name)) if math.isfinite(value) else ""


def _in_column(value: float, si: str, units: str) -> str:
    if not math.isfinite(value):
        return ""
    if si in ("", "1"):
        return f"{value:.3f}".replace("-", "−")
    return number(value, shown_as(si, units))


def working_head(c: Check, sums: str) -> Iterator[str]:
    """What stands over the working of a check: mark, title, sums, part, case, rule, method, caveat. It is linked to."""
    title = f"#heading(level: 3, numbering: none, outlined: false, {quoted(capital(c.title))})"
    yield f"{title} #label({quoted(c.id)})\n"
    sums_line = f'#mark("{c.verdict}") #h(2pt) #strong({quoted(c.verdict)}): #{quoted(sums)}'
    yield f"#block(below: 0.5em, sticky: true)[#sans[{sums_line}]]\n"
    told = [
        (n, t)
        for n, t in (
            ("id", c.id),
            ("part", c.part),
            ("case", c.case),
            ("rule", c.rule),
            ("method", c.method),
            ("to be said", _caveat(c.caveat)),
        )
        if t
    ]
    rows = ", ".join(f"[#{quoted(n)}], [#{quoted(t)}]" for n, t in told)
    yield f"#table(columns: (auto, 1fr), inset: (x: 3pt, y: 1.4pt), {rows})\n"


def _caveat(text: str) -> str:
    """A caveat with its list of cases that are not worked out left to the section that tells them one by one."""
    said, lost, rest = text.partition("not worked out: ")
    if not lost:
        return text
    _, _, after = rest.partition(" and more; ")
    return "; ".join(
        x for x in (said.removesuffix("; "), "cases that are not worked out may be worse (section 4)", after) if x
    )


def steps(lines: Sequence[Step], units: str) -> Iterator[str]:
    """Lines of working, each kept whole on a page; lines that only tell a number, one under the other, go together."""
    n = 1
    for bare, group in groupby(lines, key=lambda s: (not s.given, s.formula if not s.given else "", s.source)):
        these = list(group)
        if bare[0] and len(these) > 1:
            yield _together(these, n, units)
        else:
            yield from (_line(s, n + i, units) for i, s in enumerate(these))
        n += len(these)


def _line(s: Step, n: int, units: str) -> str:
    given = "#h(9pt) ".join(f"#box[{formula(k)} = #{quoted(amount(v, u, units))}]" for k, v, u in s.given)
    return _block(
        n,
        f"#sans[#{quoted(capital(s.title))}]{_source(s)} #linebreak() {formula(s.formula)}"
        + (f" #linebreak() {given}" if given else "")
        + f" #linebreak() = #strong({quoted(amount(s.value, s.unit, units))})",
    )


def _together(these: Sequence[Step], n: int, units: str) -> str:
    """Lines that only tell a number, as rows under their one formula."""
    rows = ", ".join(
        f"[#{quoted(capital(s.title))}], [#strong({quoted(amount(s.value, s.unit, units))})]" for s in these
    )
    count = quoted(f"{n} to {n + len(these) - 1}. ")
    table = f"#table(columns: (auto, 1fr), inset: (x: 3pt, y: 1.6pt), {rows})"
    content = f"#sans({count}) {formula(these[0].formula)}{_source(these[0])} {table}"
    whole = "false" if len(these) <= KEPT else "true"
    return f"#block(breakable: {whole}, above: 0.75em, below: 0.75em)[{content}]\n"


def _block(n: int | str, content: str) -> str:
    return (
        f"#block(breakable: false, above: 0.75em, below: 0.75em, inset: (left: 20pt))[#place(dx: -20pt, sans[{n}.]) "
        f"{content}]\n"
    )


def _source(s: Step) -> str:
    return f' #h(6pt) #text(font: "{FAMILY}", size: 9pt)[#{quoted(s.source)}]' if s.source else ""


def capital(text: str) -> str:
    """The first letter a capital."""
    return text[:1].upper() + text[1:]


def formula(text: str) -> str:
    """A formula with lowered and raised letters, as typst's content.

    >>> formula("-L/rho")
    '#"−"#emph("L")#"/"#emph("ρ")'
    """
    for old, new in SIGNS:
        text = text.replace(old, new)
    text = MINUS.sub("−", text)
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
            if m[2] and len(letter) > 3:  # a name of the file, no letter with a foot
                pieces.append(f"#{quoted(m[0])}")
                at = m.end()
                continue
            lone = len(letter) <= 2 and letter not in WORDS and letter != "√"
            pieces.append(f"#emph({quoted(letter)})" if lone or m[2] else f"#{quoted(letter)}")
            pieces.extend([f"#sub({quoted(m[2])})"] if m[2] else [])
        at = m.end()
    pieces.append(f"#{quoted(text[at:])}")
    return "".join(p for p in pieces if p != '#""')
