"""A report set as PDF: contents with links, tables that break over pages under repeated heads, pictures as SVG.

typst sets it, offline. Fonts are the program's own Source Sans Pro (heads, tables, figures) and the Libertinus Serif
that typst carries (running text, formulas). No date and no clock: the same report gives the same bytes. Every word is
handed over as a string, so nothing in a name or a caveat can be taken for markup.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sparwright.base.look import LOOK
from sparwright.base.safety import CAUTION
from sparwright.output.fonts import FAMILY, font_file
from sparwright.output.set_words import SERIF, amount, capital, cell, head, quoted, steps, working_head
from sparwright.output.svg import picture_svg
from sparwright.output.text import compared
from sparwright.reports.page import Amount, Block, Figure, Paper, Paragraph, Section, Steps, Table, Working

SHEETS = {"inch": "us-letter", "millimetre": "a4"}
SIZE = 10  # pt of running text and tables
TALLEST, WIDE = 198.0, 178.0  # mm that a picture may be, so that it stands below the head of a section


def strength_pdf(paper: Paper) -> bytes:
    """The report as PDF. Raises NoFont."""
    import typst

    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(font_file().parent)])
    pictures = [b for b in paper.blocks() if isinstance(b, Figure)]
    inputs = {f"figure{i}": picture_svg(f.picture).decode("utf-8") for i, f in enumerate(pictures)}
    source = "".join(_document(paper))
    made = typst.compile(
        source.encode("utf-8"), font_paths=fonts, ignore_system_fonts=True, sys_inputs=inputs, format="pdf", timestamp=0
    )
    assert isinstance(made, bytes)
    return made


def _document(paper: Paper) -> Iterator[str]:
    yield _preamble(paper)
    yield from _title_page(paper)
    yield "#pagebreak()\n#outline(title: [Contents], depth: 2, indent: 1.2em)\n#pagebreak()\n"
    count = iter(range(10**6))
    ids = {b.check.id for b in paper.blocks() if isinstance(b, Working)}
    for section in paper.sections:
        yield from _section(section, 1, paper, count, ids)


def _preamble(paper: Paper) -> str:
    """Paper, faces and the few words of typst that the rest uses."""
    name = f"{paper.family} {paper.model}: strength report"
    foot = f"{paper.program}, file {paper.file_sha256[:12]}. {CAUTION}"
    small = f'text(font: "{FAMILY}", size: 8pt, fill: rgb("{LOOK.rule}"))'
    return f"""#set document(title: {quoted(name)}, author: (), date: none)
#let started() = query(heading.where(level: 1)).filter(h => h.location().page() <= here().page())
#set page(paper: "{SHEETS[paper.units]}", margin: (x: 18mm, top: 22mm, bottom: 24mm),
  header: context if counter(page).get().first() > 1 [#set {small}
    #{quoted(name)} #h(1fr) #context {{ let before = started(); if before.len() > 0 {{ before.last().body }} }}],
  footer: [#set {small}
    #set par(justify: false, leading: 0.5em)
    #grid(columns: (1fr, auto), gutter: 6mm, [#{quoted(foot)}],
      [#context counter(page).display("1 / 1", both: true)])])
#set text(font: "{SERIF}", size: {SIZE}pt, fill: rgb("{LOOK.ink}"), lang: "en", region: "gb", hyphenate: false)
#set par(justify: false, leading: 0.6em, spacing: 0.9em)
#set heading(numbering: "1.1")
#show heading: set text(font: "{FAMILY}", weight: 600)
#show heading.where(level: 1): it => {{ pagebreak(weak: true); block(below: 1em, text(size: 17pt, it)) }}
#show heading.where(level: 2): it => block(above: 1.6em, below: 0.8em, sticky: true, text(size: 12.5pt, it))
#show heading.where(level: 3): it => block(above: 1.3em, below: 0.6em, sticky: true, text(size: 11pt, it))
#show outline: set text(font: "{FAMILY}")
#show outline.entry.where(level: 1): set text(weight: 600)
#show outline.entry.where(level: 1): set block(above: 1em)
#set table(stroke: none, inset: (x: 3pt, y: 2.6pt))
#show table: set text(font: "{FAMILY}", size: {SIZE}pt, number-width: "tabular")
#show table: set par(justify: false, leading: 0.45em)
#let thin = 0.5pt + rgb("{LOOK.rule}")
#let faint = 0.3pt + rgb("{LOOK.faint}")
#let heavy = 1pt + rgb("{LOOK.ink}")
#let mark(kind) = box(baseline: 0.5pt,
  if kind == "fail" {{ rect(width: 6.5pt, height: 6.5pt, fill: rgb("{LOOK.ink}"), stroke: none) }}
  else if kind == "unknown" {{ rect(width: 6.5pt, height: 6.5pt, stroke: 0.8pt + rgb("{LOOK.ink}")) }}
  else {{ move(dy: -1.5pt, circle(radius: 1.1pt, fill: rgb("{LOOK.rule}"))) }})
#let page-of(id) = context text(fill: rgb("{LOOK.rule}"))[(p.~#counter(page).at(label(id)).first())]
#let sans(it) = text(font: "{FAMILY}", it)
#let strong-head(it) = block(above: 1.2em, below: 0.5em, sticky: true, text(font: "{FAMILY}", weight: 600, it))
#let caption(it) = block(above: 1.1em, below: 0.5em, sticky: true, sans(it))
#let note(it) = block(inset: (left: 6pt, y: 2pt), stroke: (left: 1.5pt + rgb("{LOOK.rule}")), it)
#let drawn(name, width, alt, under) = block(above: 1em, below: 1em, breakable: false)[
  #image(bytes(sys.inputs.at(name)), format: "svg", width: width, alt: alt) #v(-0.3em) #text(size: {SIZE}pt, under)]
"""


def _title_page(paper: Paper) -> Iterator[str]:
    title = paper.title[:1].upper() + paper.title[1:]
    rows = []
    for what, value, unit in paper.facts:
        said = amount(value.value, unit, paper.units) if isinstance(value, Amount) else str(value)
        rows.append(f"[#{quoted(what)}], [#{quoted(said)}]")
    yield f"""#v(22mm)
#block(sans(text(size: 30pt, weight: 600, {quoted(f"{paper.family} {paper.model}")})))
#block(sans(text(size: 15pt, {quoted(title)})))
#v(4mm)
#block(sans(text(size: 15pt, weight: 600, "Strength report")))
#v(6mm)
#block(width: 100%, inset: 9pt, stroke: heavy, text(size: 12pt)[#mark("{paper.verdict}") #h(3pt)
  #sans(strong({quoted(paper.verdict.capitalize())})). #{quoted(paper.state)}])
#v(4mm)
#table(columns: (auto, 1fr), stroke: (y: thin), {", ".join(rows)})
#v(6mm)
#note(text(size: 12pt, {quoted(CAUTION)}))
"""


def _section(section: Section, level: int, paper: Paper, count: Iterator[int], ids: set[str]) -> Iterator[str]:
    yield f"#heading(level: {level}, {quoted(section.title)})\n"
    for block in section.blocks:
        yield from _block(block, paper, count, ids)
    for inner in section.sections:
        yield from _section(inner, level + 1, paper, count, ids)


def _block(block: Block, paper: Paper, count: Iterator[int], ids: set[str]) -> Iterator[str]:
    match block:
        case Paragraph(text=text, kind=kind):
            yield f"#note[#{quoted(text)}]\n" if kind == "note" else f"#par[#{quoted(text)}]\n"
        case Table():
            yield from _table(block, paper.units, ids)
        case Figure():
            yield _figure(block, next(count))
        case Steps():
            yield f"#strong-head({quoted(capital(block.title))})\n"
            yield from steps(block.steps, paper.units)
        case Working():
            yield from _working(block, paper.units)


def _figure(figure: Figure, i: int) -> str:
    p = figure.picture
    part = min(1.0, TALLEST / p.height * p.width / WIDE)
    return f'#drawn("figure{i}", {100 * part:.1f}%, {quoted(p.words)}, {quoted(figure.caption)})\n'


def _table(table: Table, units: str, ids: set[str]) -> Iterator[str]:
    if table.caption:
        yield f"#caption({quoted(capital(table.caption))})\n"
    widths = ", ".join(f"{c.share:g}fr" if c.share else "auto" for c in table.columns)
    sides = ", ".join("right" if c.figures else "left" for c in table.columns)
    heads = ", ".join(f"[#{quoted(head(c, units))}]" for c in table.columns)
    yield f"#table(columns: ({widths},), align: ({sides},),\n"
    yield f"  table.header(repeat: true, table.hline(stroke: heavy), {heads}, table.hline(stroke: thin)),\n"
    for row in table.rows:
        cells = (cell(value, column, units, ids) for value, column in zip(row, table.columns, strict=True))
        yield f"  {', '.join(cells)}, table.hline(stroke: faint),\n"
    yield "  table.hline(stroke: thin))\n"


def _working(working: Working, units: str) -> Iterator[str]:
    c = working.check
    yield from working_head(c, compared(c, units))
    yield from steps((*c.steps, *working.by_hand), units)
    if working.note:
        yield f"#note[#{quoted(working.note)}]\n"


__all__: Sequence[str] = ["strength_pdf"]
