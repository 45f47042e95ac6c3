"""Joints: who meets whom, how much is glued, how many there are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from families import PROBE, reading
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Family, Wire
from sparwright.parts.frame import FILL
from sparwright.parts.layout import _all_different, lay_out
from sparwright.parts.part import Joint, Straight
from sparwright.parts.stations import bay, rib_stations
from sparwright.parts.struts import strut_joints, strut_parts
from sparwright.parts.wing import in_one
from sparwright.run import RunResult

Ran = Callable[[str], RunResult]


def of(ran: Ran, model: str, *words: str) -> list[Joint]:
    return [j for j in ran(model).assembly.joints if all(w in j.number for w in words)]


@pytest.mark.parametrize(("model", "spars"), [("W1", 2), ("W2", 2), ("W3", 2)])
def test_every_rib_meets_its_spars(ran: Ran, model: str, spars: int) -> None:
    """Each piece that a spar cuts or passes has one joint there for each place it stands in."""
    assembly = ran(model).assembly
    for part in assembly.parts:
        if part.purpose == "rib" and not part.name.startswith("aileron"):
            mine = [j for j in assembly.joints if "-WEB-" in j.parts[0] and j.parts[1] == part.number]
            met = {j.parts[0].split("-")[2] for j in mine}
            assert 1 <= len(met) <= spars, part.number
            for spar in met:
                assert sum(j.count for j in mine if j.parts[0].split("-")[2] == spar) == part.count, part.number


def test_a_rib_the_spar_goes_through_is_glued_on_both_faces(ran: Ran, whinchat: Family) -> None:
    thick = whinchat.models["W1"].wings[0].ribs.sheet.thickness
    joints = [j for j in of(ran, "W1", "-JOINT-FRONT") if j.parts[1].startswith("W1-wing-RIB-")]
    assert joints
    for j in joints:
        assert j.kind == "glue" and j.primary
        assert_allclose(j.area, j.length * thick, rtol=1e-12)
        web = ran("W1").assembly.part(j.parts[0]).shape
        assert_allclose(j.length, 2 * np.ptp(web.outline[:, 1]), rtol=0.01)  # type: ignore[union-attr]


def test_a_rib_cut_through_is_fastened_on_its_own_face(ran: Ran) -> None:
    for j in (x for x in of(ran, "W2", "NOSE-RIB") if "JOINT-FRONT" in x.number):
        web = ran("W2").assembly.part(j.parts[0]).shape
        assert_allclose(j.length, np.ptp(web.outline[:, 1]), rtol=0.03)  # type: ignore[union-attr]


def test_metal_is_riveted_and_the_rivet_unknown(ran: Ran) -> None:
    joints = [j for j in of(ran, "W2", "-JOINT") if "CAP" in j.number or "RIB" in j.number]
    assert joints and all(j.kind == "rivet" and j.fastener == "unknown" and j.area == 0 for j in joints)


def test_cap_glue_area(ran: Ran, whinchat: Family) -> None:
    """Length of the cap times its depth on each web; right and left for themselves."""
    spar = whinchat.models["W1"].wings[0].spars[0]
    joints = of(ran, "W1", "FRONT-UPPER-CAP-outer-JOINT")
    assert [j.parts[0][-2:] for j in joints] == ["-R", "-L"]
    for joint in joints:
        cap = ran("W1").assembly.part(joint.parts[0])
        assert isinstance(cap.shape, Straight)
        assert_allclose(joint.area, cap.shape.length * spar.cap.depth * spar.webs, rtol=1e-3)
        assert joint.count == cap.count == 1


def test_both_ends_of_every_strut_and_wire(ran: Ran, whinchat: Family) -> None:
    model = whinchat.models["W2"]
    joints = [j for j in strut_joints(model) if "-END-" in j.number]
    assert len(joints) == 2 * (len(model.struts) + len(model.wires))
    assert all(j.fastener.startswith("AN") and j.count == 2 for j in joints)
    assert all("-LUG-" in j.through or "-CLAMP-" in j.through for j in joints)


def test_skin_joins_each_rib_once(ran: Ran, whinchat: Family) -> None:
    """As many joints as ribs under the panel, both sides, the centreline once."""
    model = whinchat.models["W1"]
    for panel in model.wings[0].panels:
        lines = [r.buttline for r in rib_stations(model.wings[0]) if r.kind == "wing"]
        ribs = [y for y in lines if panel.root_buttline - 1e-4 <= y <= panel.tip_buttline + 1e-4]
        joints = of(ran, "W1", f"SKIN-NOSE-{panel.name}-JOINT")
        assert sum(j.count for j in joints) == sum(1 if y < 1e-6 else 2 for y in ribs)


def test_an_edge_bar_holds_the_rib_on_the_centreline_once(ran: Ran, whinchat: Family) -> None:
    wing = whinchat.models["W1"].wings[0]
    lines = [r.buttline for r in rib_stations(wing) if r.kind == "wing" and r.buttline <= wing.panels[0].tip_buttline]
    for bar in ("NOSE", "TAIL"):
        (joint,) = of(ran, "W1", f"{bar}-BAR-{wing.panels[0].name}-JOINT")
        assert joint.count == sum(1 if y < 1e-6 else 2 for y in lines)


def test_weld_lengths(ran: Ran) -> None:
    """Every tube is in the cluster of each node where it meets another; its length is round the ends fitted there."""
    assembly = ran("W1").assembly
    ends = [n for j in assembly.joints if "-fuselage-WELD-" in j.number for n in j.parts]
    tubes = [p for p in assembly.parts if "-fuselage-TUBE-" in p.number]
    nodes = [n for t in tubes for n in t.at.split(" to ")]
    assert all(ends.count(t.number) == sum(nodes.count(n) > 1 for n in t.at.split(" to ")) for t in tubes)
    cluster = next(j for j in assembly.joints if j.number == "W1-fuselage-WELD-S2")  # two longerons on the sternpost
    post = next(t for t in tubes if t.at == "S1 to S2 to S4 to S3")
    assert cluster.parts[0] == post.number and len(cluster.parts) == 3
    around = np.pi * 0.625 * 0.0254
    assert 2 * around < cluster.length < 6 * around  # the two meet at a small angle: a long seam


def test_cable_fill() -> None:
    """Wires of a layer that touch: 1x19 has five across, 7x7 nine, 7x19 fifteen."""
    assert_allclose([FILL["1x19"], FILL["7x7"], FILL["7x19"]], [0.76, 49 / 81, 133 / 225], rtol=1e-12)


def test_an_unknown_cable_is_refused(whinchat: Family) -> None:
    model = whinchat.models["W2"]
    odd = replace(model, wires=(replace(model.wires[0], construction="6x36"),))
    with pytest.raises(DesignProblem, match="6x36"):
        list(strut_parts(odd))
    assert isinstance(odd.wires[0], Wire)


def test_a_node_without_tube_is_refused(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    lonely = replace(model.fuselage, nodes={**model.fuselage.nodes, "X9": (0.5, 0.2, 0.1)})
    strut = replace(model.struts[0], ends=(replace(model.struts[0].ends[0], node="X9"), model.struts[0].ends[1]))
    with pytest.raises(DesignProblem, match="X9"):
        lay_out(replace(model, fuselage=lonely, struts=(strut,)))


def test_a_kinked_panel_is_two_pieces(whinchat: Family) -> None:
    """A panel from the centreline with dihedral: caps on each side, not one through."""
    model = whinchat.models["W1"]
    wing = model.wings[0]
    bent = replace(wing, panels=(replace(wing.panels[0], dihedral=0.03), *wing.panels[1:]))
    straight = {p.number: p for p in lay_out(model).parts}
    kinked = {p.number: p for p in lay_out(replace(model, wings=(bent,))).parts}
    number = f"W1-{wing.name}-FRONT-UPPER-CAP-{wing.panels[0].name}"
    assert in_one(wing.panels[0]) and not in_one(bent.panels[0])
    assert straight[number].count == 1
    for hand in ("R", "L"):
        assert_allclose(2 * kinked[f"{number}-{hand}"].mass, straight[number].mass, rtol=1e-3)


def test_bay(whinchat: Family) -> None:
    wing = whinchat.models["W1"].wings[0]
    lines = sorted({r.buttline for r in rib_stations(wing) if r.kind == "wing"})
    assert bay(wing, (lines[2] + lines[3]) / 2) == pytest.approx(lines[3] - lines[2])
    gaps = np.diff(lines)
    i = int(np.argmax(np.abs(np.diff(gaps)))) + 1
    assert abs(gaps[i] - gaps[i - 1]) > 0.005
    assert bay(wing, lines[i]) == pytest.approx(max(gaps[i - 1], gaps[i]))


def test_two_parts_of_one_number_are_told() -> None:
    model = reading(PROBE).models["P1"]
    part = lay_out(model).parts[0]
    with pytest.raises(DesignProblem, match=part.number):
        _all_different(model, [part, lay_out(model).parts[1], part])
    _all_different(model, lay_out(model).parts)
