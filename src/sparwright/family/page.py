"""docs/family-file.md, made from the records, so that it cannot say something else than the reader.

It is printed by `page()`; a test holds the file on disk against it.
"""

from __future__ import annotations

from importlib.resources import files
from typing import Any

from sparwright.base.quantity import SI_NAME, UNITS
from sparwright.data.categories import ASK, KINDS, categories
from sparwright.data.loader import materials
from sparwright.family import aileron as a
from sparwright.family import balance as balance_keys
from sparwright.family import brakes as br
from sparwright.family import confirmed as cf
from sparwright.family import controls as c
from sparwright.family import cowling as cw
from sparwright.family import days as dy
from sparwright.family import drag_bracing as d
from sparwright.family import electrics as el
from sparwright.family import exhaust as x
from sparwright.family import fitted as b
from sparwright.family import fittings as e
from sparwright.family import formers as fo
from sparwright.family import fuel as f
from sparwright.family import ground as g
from sparwright.family import inspection as i
from sparwright.family import limits as lm
from sparwright.family import measured_sheets as ms
from sparwright.family import model as m
from sparwright.family import occupant as o
from sparwright.family import parked as pk
from sparwright.family import pitot as pt
from sparwright.family import play as pl
from sparwright.family import proof as pf
from sparwright.family import rigging as r
from sparwright.family import strengths as st
from sparwright.family import tail_frame as t
from sparwright.family import trials as tp
from sparwright.family import weighed as w
from sparwright.family.schema import DIMENSION_OF, Head, Key, keys, own, top
from sparwright.family.tables import in_words

TABLES = (
    ("[family]", Head, "the head of the file"),
    ("[limits]", m.Limits, ""),
    ("[[limits.kept]]", lm.KeptSize, ""),
    ("[sections.NAME]", m.Section, "either `naca` or `points`"),
    ("[[sections.NAME.measured]]", m.Measured, "as many as there are Reynolds numbers"),
    ("[wings.NAME]", m.Wing, "one to three; right side, the left is its mirror"),
    ("[wings.NAME.panels.NAME]", m.Panel, ""),
    ("[wings.NAME.spars.NAME]", m.Spar, ""),
    ("a range of spars.NAME.no_scarf", m.NoScarf, ""),
    ("[wings.NAME.splice]", m.Splice, ""),
    ("[wings.NAME.skins.NAME]", m.Skin, ""),
    ("[wings.NAME.skins.NAME.laid]", m.LaidUp, ""),
    ("[wings.NAME.ribs]", m.Ribs, ""),
    ("[wings.NAME.ribs.truss]", m.Truss, "left out: ribs are cut from sheet"),
    ("[wings.NAME.stouter_ribs.NAME]", m.StouterRib, ""),
    ("[wings.NAME.drag_bracing]", d.DragBracing, "left out: not drawn"),
    ("[wings.NAME.inspection]", i.Inspection, ""),
    ("one of wings.NAME.inspection.openings", i.Opening, ""),
    ("[wings.NAME.aileron]", m.Aileron, ""),
    ("[wings.NAME.aileron.frame]", a.AileronFrame, "left out: its ribs alone are drawn"),
    ("a false spar, or an aileron's spar", a.EdgeSpar, ""),
    ("[wings.NAME.aileron.frame.hinges]", a.AileronHinges, ""),
    ("[wings.NAME.aileron.frame.weights.NAME]", balance_keys.AileronWeight, "left out: none"),
    ("one of wings.NAME.aileron.frame.closed", a.ClosedStretch, "left out: none"),
    ("[paint]", a.Paint, "left out: none in the balance of the hinged surfaces"),
    ("[tailplane] and [fin]", m.TailSurface, ""),
    ("[tailplane.frame] and [fin.frame]", t.TailFrame, "left out: weight by area"),
    ("[tailplane.frame.gusset]", t.Gusset, "the same of the fin, as all below"),
    ("[tailplane.frame.fixed]", t.FixedFrame, ""),
    ("[tailplane.frame.movable]", t.MovableFrame, ""),
    ("[tailplane.frame.hinges]", t.TailHinges, ""),
    ("[tailplane.frame.horn]", t.TailHorn, "the same of an aileron's frame"),
    ("[tailplane.frame.attach.NAME]", t.TailAttach, ""),
    ("[tailplane.frame.weight]", balance_keys.TailWeight, "left out: none"),
    ("[fuselage]", m.Fuselage, ""),
    ("[fuselage.tubes.NAME]", m.FrameTube, ""),
    ("[fuselage.body.NAME]", m.Body, "from nose to tail"),
    ("[struts.NAME]", m.Strut, ""),
    ("[wires.NAME]", m.Wire, ""),
    (
        "an end of a strut or wire",
        m.StrutEnd,
        "`node`, or `wing`, `spar` and `buttline`, or `tail`, `tube` and `along`; `fitting` and `piece`, or neither",
    ),
    ("[fittings.NAME]", e.Fitting, "named by ends of struts and wires"),
    ("[strut_pieces.NAME]", e.StrutPiece, "named by ends of struts"),
    ("[roots.NAME]", e.Root, "left out: the joint of a wing's root is not drawn"),
    ("[engine]", m.Engine, ""),
    ("a point of engine.curve", m.CurvePoint, ""),
    ("a point of engine.part_throttle", m.PartPoint, "left out: a law with a wide band"),
    ("[propeller]", m.Propeller, ""),
    ("a station of propeller.blade", m.BladeStation, "`section` or `thickness`; left out: the standard blade"),
    ("[wheels.NAME]", m.Wheel, ""),
    ("[sheets.NAME]", b.FlatSheet, "flat sheets on the frame"),
    ("[sheets.NAME.holes.NAME]", b.SheetHole, ""),
    ("[formers.NAME]", fo.Former, "arches that shape the deck"),
    ("[stringers.NAME]", fo.Stringer, ""),
    ("[mount]", b.EngineMount, "left out: its weight is in the engine's"),
    ("[mount.feet.NAME]", b.MountFoot, ""),
    ("[engine.lumps.NAME]", b.Lump, "for what it would run into"),
    ("[cowling]", cw.Cowling, "left out: not drawn"),
    ("[cowling.front] and [cowling.rear]", cw.CowlEnd, ""),
    ("[cowling.openings.NAME]", cw.CowlOpening, ""),
    ("[undercarriage]", b.Undercarriage, "left out: wheels without axle and springs"),
    ("[undercarriage.guide]", b.AxleGuide, ""),
    ("[undercarriage.rubber]", b.Rubber, ""),
    ("[undercarriage.tail]", b.Leaf, ""),
    ("[undercarriage.brakes]", br.Brakes, "left out: in the wheels' mass"),
    ("[undercarriage.brakes.lines.NAME]", br.BrakeLine, "right and left"),
    ("[exhaust]", x.Exhaust, "left out: in the engine's mass, without a body"),
    ("[exhaust.pipes.NAME]", x.ExhaustPipe, ""),
    ("[exhaust.silencers.NAME]", x.Silencer, ""),
    ("[days.NAME]", dy.Day, ""),
    ("[ground]", g.Ground, ""),
    ("[ground.springing.NAME]", g.Springing, ""),
    ("[parked]", pk.Parked, "what is left out is unknown"),
    ("[parked], a rope of `ropes`", pk.Rope, ""),
    ("[parked], one of `jacks` or `slings`", pk.HeldPoint, ""),
    ("[rigging]", r.Rigging, "what is left out is unknown"),
    ("[rigging.points.NAME]", r.LevelPoint, ""),
    ("[test_pieces]", tp.TestPieces, "left out: no test piece is told"),
    ("[test_pieces.glue], .bond, .weld, .lay_up", tp.Coupon, ""),
    ("[loads.NAME]", m.Load, ""),
    ("[items.NAME]", m.Item, ""),
    ("[allowances.NAME]", m.Allowance, ""),
    ("[[confirmed]]", cf.Confirmed, "a row from memory counts only then; so does a condition that no file can answer"),
    ("[strengths]", st.Strengths, "left out: the values on file alone"),
    ("[[strengths.coupons]]", st.CouponSeries, "`material` or `joint`, `results` or `forces`"),
    ("[[strengths.editions]]", st.EditionChoice, ""),
    ("[[strengths.knock_downs]]", st.KnockDown, "either `temperature` or `moisture`"),
    ("[[strengths.confirmed]]", st.ConfirmedValues, "a value from memory decides only then"),
    ("[proof]", pf.ProofBags, "left out: bags of 10 and 5 lb"),
    ("[[models.NAME.proof_measured]]", pf.ProofMeasured, "as the test is done; told against what was predicted"),
    ("[[measured_sheets]]", ms.MeasuredSheet, "a sheet that was measured before it is cut"),
    ("[[models.NAME.weighed]]", w.Weighed, "as parts come off the scale"),
    ("[seat]", o.Seat, "left out: nothing is said of who fits in"),
    ("[seat.stick]", o.StickGrip, ""),
    ("[seat.throttle]", o.Throttle, ""),
    ("[seat.pedals]", o.Pedals, ""),
    ("[seat.panel]", o.InstrumentPanel, ""),
    ("[seat.harness]", o.Harness, ""),
    ("[seat.harness.lug]", o.StrapLug, "left out: the straps' anchors are not drawn"),
    ("[seat.coaming]", o.Coaming, ""),
    ("[seat.shell]", o.SeatShell, "left out: the seat is not drawn"),
    ("[seat.shell.angle]", o.SeatAngle, ""),
    ("[seat.shell.stiffener]", o.SeatStiffener, ""),
    ("[seat.shell.tunnel]", o.SeatTunnel, ""),
    ("[controls]", c.Controls, "left out: nothing is said of the controls"),
    ("[controls.stick]", c.Stick, ""),
    ("[controls.torque_tube]", c.TorqueTube, ""),
    ("[controls.pedals]", c.RudderPedals, ""),
    ("[controls.spring]", c.ReturnSpring, ""),
    ("[controls.cranks.NAME]", c.Crank, ""),
    ("[controls.lugs.NAME]", c.Lug, ""),
    ("[controls.rods.NAME]", c.Rod, ""),
    ("[controls.cables.NAME]", c.ControlCable, ""),
    ("[controls.pulleys.NAME]", c.Pulley, ""),
    ("[controls.fairleads.NAME]", c.Fairlead, ""),
    ("[controls.rod_end]", c.RodEnd, ""),
    ("[controls.cable_end]", c.CableEnd, ""),
    ("[controls.stops]", c.Stops, ""),
    ("[controls.stops.side]", c.SideStop, ""),
    ("[controls.trim]", c.Trim, ""),
    ("[controls.play]", pl.ControlPlay, "left out: free play of the surfaces is not known"),
    ("[electrics]", el.Electrics, "left out: nothing is said of the electrics"),
    ("[electrics.battery]", el.Battery, ""),
    ("[electrics.generator]", el.Generator, ""),
    ("[electrics.circuits.NAME]", el.Circuit, ""),
    ("[electrics.antenna]", el.Antenna, ""),
    ("[pitot]", pt.Pitot, "left out: nothing is said of the position error"),
    ("[pitot.lines.NAME]", pt.AirLine, ""),
    ("[fuel]", f.Fuel, "left out: nothing is said of the fuel"),
    ("[fuel.tank]", f.Tank, ""),
    ("[fuel.tank.hold]", f.TankHold, "left out: no joint holds the tank to the frame"),
    ("[fuel.tank.screen]", f.Screen, ""),
    ("[fuel.vent]", f.Vent, ""),
    ("[fuel.lines.NAME]", f.FuelLine, ""),
    ("[fuel.valve]", f.FuelValve, ""),
    ("[fuel.filter]", f.FuelFilter, ""),
    ("[fuel.pump] and [fuel.emergency]", f.FuelPump, ""),
    ("[fuel.carburettor]", f.Carburettor, "`least`, or `seat` where its maker states none"),
    ("sheet stock: sheet, web", m.Sheet, ""),
    ("bar stock: cap, nose_bar, tail_bar", m.Bar, ""),
    ("tube stock: tube", m.RoundTube, ""),
)
FORMS = {
    "ratio": "ratio", "count": "count", "flag": "true or false", "words": "text", "place": "three lengths",
    "ratios": "list of ratios", "names": "list of texts", "points": "list of [x, y]", "run": "list of node names",
    "table": "table", "tables": "named tables", "list": "list of tables", "places": "named places",
}  # fmt: skip


def page() -> str:
    """The whole page."""
    head = files("sparwright.family").joinpath("page.md").read_text(encoding="utf-8")
    parts = [head.rstrip(), _units(), *(_table(*t) for t in TABLES), _model(), _known()]
    return "\n\n".join(parts) + "\n"


def _units() -> str:
    names = dict.fromkeys(DIMENSION_OF.values())
    rows = [f"| {d} | {', '.join(f'`{u}`' for u in UNITS[d])} |" for d in names]
    return "\n".join(("## Units", "", "| quantity | units |", "|---|---|", *rows))


def _table(title: str, record: type, note: str) -> str:
    text = (record.__doc__ or "").strip().split("\n")[0] if record is not Head else ""
    above = " ".join(x for x in (text, f"({note})" if note else "") if x)
    return "\n".join((f"## {title}", *(("", above) if above else ()), "", *_rows(keys(record))))


def _rows(these: tuple[Key, ...]) -> list[str]:
    return ["| key | what it is | written as | must be | if left out |", "|---|---|---|---|---|", *map(_row, these)]


def _row(key: Key) -> str:
    plain = {"quantity": key.dimension, "quantities": f"list of {key.dimension}s"} | FORMS
    form = " or ".join(f'`"{c}"`' for c in key.choices) or plain[key.form]
    bounds = in_words(key.bounds, key.dimension)
    left_out = _default(key.default) + (f" {SI_NAME[key.dimension]}" if key.dimension and key.default else "")
    left_out = "must be said" if key.required else left_out
    return f"| `{key.name}` | {key.meaning} | {form} | {bounds} | {left_out} |"


def _default(value: Any) -> str:
    return "none" if value in ("", (), None) else f"{str(value).lower() if isinstance(value, bool) else value}"


def _model() -> str:
    lines = (
        "## [models.NAME]",
        "",
        "A model has `title`, may have its own `note`, `drawing_units`, `market`, `categories`, and may say the tables",
        f"{', '.join(f'`{k.name}`' for k in top())} anew. Tables are laid over the family's key by key; a list or a",
        "single value takes the place of the family's. `without` takes something of the family's away. A model that is",
        "`like` another takes that one's tables in place of the family's: the same aeroplane with another engine.",
        "",
        *_rows(own()),
        "| `without` | what it does not take from the family, as dotted keys | list of texts |  | none |",
        "| `like` | the model whose tables it takes, its title and what was weighed excepted | text |  | none |",
    )
    return "\n".join(lines)


def _known() -> str:
    kinds = [f"| `{k}` | {x.title} |" for k, x in materials().items()]
    rules = [f"| `{k}` | {KINDS[x.kind].lower()} | {x.title} |" for k, x in categories().items()]
    return "\n".join(("## Materials", "", "| key | what it is |", "|---|---|", *kinds, "", "## Licence categories", "",
                      ASK, "", "| key | kind | what it is |", "|---|---|---|", *rules))  # fmt: skip
