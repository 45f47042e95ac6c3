"""Against a general-purpose frame library, on the invented braced frame: 64 nodes, 144 members, 20 wires, 12 cases.

Source: PyNiteFEA 3.2.0 (MIT licence), a general library for space frames, where it is installed; else this is skipped.
First order with wires: all digits that its tension-only rounds settle to. Second order: its P-Delta takes the whole
geometric stiffness of each member, ours too; it leaves wires their bending terms, ours are strings, so the last
digits differ, most where the wing tip moves by 0.24 of 4.5 m. Measured: see docs/accuracy.md.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from frames import braced
from numpy.testing import assert_allclose

from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare

library = pytest.importorskip("Pynite")
pytestmark = pytest.mark.long


def other(f: Frame, loads: np.ndarray, second: bool) -> tuple[np.ndarray, np.ndarray]:
    """(movements (c, n, 3), axial forces (c, m), tension positive) by the library; without arms and rigging."""
    model = library.FEModel3D()
    for i, at in enumerate(f.place.tolist()):
        model.add_node(f"N{i}", *at)
        if f.held[i].any():
            model.def_support(f"N{i}", *f.held[i].tolist())
    for e, (i, j) in enumerate(f.ends.tolist()):
        model.add_material(f"E{e}", float(f.youngs[e]), float(f.shear[e]), 0.3, 0.0)
        model.add_section(f"S{e}", *(float(x[e]) for x in (f.area, f.about_y, f.about_z, f.twist)))
        model.add_member(f"M{e}", f"N{i}", f"N{j}", f"E{e}", f"S{e}", tension_only=bool(f.wire[e]))
        model.members[f"M{e}"].rotation = _rotation(model.members[f"M{e}"].T()[:3, :3], f.up[e])
        free = [*[False] * 4, True, True] * 2 if f.wire[e] else f.free[e].tolist()
        if any(free):
            model.def_releases(f"M{e}", *free)
    for c in range(len(loads)):
        model.add_load_combo(f"C{c}", {f"L{c}": 1.0})
        for n, way in zip(*np.nonzero(loads[c]), strict=True):
            model.add_node_load(f"N{n}", ("FX", "FY", "FZ", "MX", "MY", "MZ")[way], loads[c, n, way], f"L{c}")
    (model.analyze_PDelta if second else model.analyze)(log=False, check_stability=False)
    return _moved(model, f, len(loads)), _pulls(model, f, len(loads))


def _rotation(axes: np.ndarray, up: np.ndarray) -> float:
    """Degrees about its axis from the library's own y and z (rows) to ours: z towards `up`."""
    return float(np.degrees(np.arctan2(-up @ axes[1], up @ axes[2])))


def _moved(model: Any, f: Frame, cases: int) -> np.ndarray:
    nodes = [model.nodes[f"N{i}"] for i in range(len(f.place))]
    return np.array([[[n.DX[f"C{c}"], n.DY[f"C{c}"], n.DZ[f"C{c}"]] for n in nodes] for c in range(cases)])


def _pulls(model: Any, f: Frame, cases: int) -> np.ndarray:
    members = [model.members[f"M{e}"] for e in range(len(f.ends))]
    return np.array(
        [[0.0 if not m.active[f"C{c}"] else float(m.f(f"C{c}")[6, 0]) for m in members] for c in range(cases)]
    )


@pytest.mark.parametrize(("second", "moved", "pulled"), [(False, 1e-8, 1e-8), (True, 1e-3, 4e-3)])
def test_same_movements_and_axial_forces(second: bool, moved: float, pulled: float) -> None:
    f, loads = braced()
    s = solve(prepare(f), loads, second)
    u, n = other(f, loads, second)
    for c in range(len(loads)):
        assert_allclose(s.moved[c, :, :3], u[c], rtol=0, atol=moved * np.abs(u[c]).max())
        assert_allclose(s.pull[c], n[c], rtol=0, atol=pulled * np.abs(n[c]).max())
