"""Fabric: how strong it must be, how it sags and pulls, what its tightness does to edges and tail tubes, its lacing.

Symbols: T tension per width (T_0 as covered, at rest), K tension per strain, b distance of ribs, p pressure difference
through one surface, w sag, L span of an edge between ribs or crosses, Z section modulus.

    T^3 - T_0 T^2 - K p^2 b^2/24 = 0,  w = p b^2/(8 T)         flat strip between ribs that do not give way
    pull on a rib p b per length, out of the surface; on the last rib besides T towards the others
    edge: running load 2 T (both surfaces); M = w L^2/12 over many ribs, w L^2/8 over one bay
    stitch: p b s <= strength of stitch; s spacing

T_0 is asked for: what a finish leaves in cloth is by its maker and was not found published. K likewise.
Strength needed: 80 lb/in new where W/S >= 9 lb/ft2 or VNE >= 160 mph, else 65; not airworthy under 70 %: 56 and 46.
The chart of lacing spacing over VNE in AC 43.13-1B was not in hand; spacing comes from the pull of the air, with what
one stitch bears (the reinforcing tape's 40 lb, read). Sources: ac-43-13-1b table 2-1, 2-4, 2-33 (read); statics.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.check import Step
from sparwright.data.thin_walls import THIN
from sparwright.strength.members.web import Many, margin


def needed(loading: Many, vne: Many) -> tuple[np.ndarray, np.ndarray]:
    """(strength when new, least in service), N/m, for wing loading Pa and never-exceed speed m/s.

    >>> [round(float(v) / 175.127, 1) for v in needed(8.3 * 47.88, 120 * 0.44704)]   # lb/in
    [65.0, 46.0]
    """
    strong = (np.asarray(loading) >= THIN["fabric_loading"].value) | (np.asarray(vne) >= THIN["fabric_speed"].value)
    new = np.where(strong, THIN["fabric_grade_a"].value, THIN["fabric_intermediate"].value)
    worn = np.where(strong, THIN["fabric_grade_a_worn"].value, THIN["fabric_intermediate_worn"].value)
    return np.asarray(new), np.asarray(worn)


def tension(at_rest: Many, stiffness: Many, pressure: Many, pitch: Many) -> np.ndarray:
    """T under pressure, N/m, of cloth tight by T_0, N/m, with K, N/m, between ribs b apart, m.

    >>> round(float(tension(1400.0, 60e3, 1500.0, 0.305)), 1)
    1603.5
    """
    t0, k, p, b = (np.asarray(v, float) for v in (at_rest, stiffness, pressure, pitch))
    more = k * (p * b) ** 2 / 24
    t = t0 + np.cbrt(more)  # above the root: Newton falls to it
    for _ in range(60):
        slope = 3 * t**2 - 2 * t0 * t
        t = np.where(slope > 0, t - (t**3 - t0 * t**2 - more) / np.where(slope > 0, slope, 1.0), t)
    return np.asarray(np.where((t0 >= 0) & (k > 0), t, np.nan))


def sag(pull: Many, pressure: Many, pitch: Many) -> np.ndarray:
    """w = p b^2/(8 T), m."""
    return np.asarray(np.asarray(pressure) * np.asarray(pitch) ** 2 / (8 * np.asarray(pull, float)))


def rib_pull(pressure: Many, pitch: Many) -> np.ndarray:
    """Pull of the fabric on a rib out of its surface, N/m."""
    return np.asarray(np.asarray(pressure) * pitch)


def lacing(pressure: Many, pitch: Many, stitch: float | None = None) -> np.ndarray:
    """Greatest spacing of stitches, m, by suction at ultimate load, Pa.

    stitch: what one bears, N; left out: what reinforcing tape must bear, 40 lb.
    Endless where nothing pulls. The rule chart (not in hand) is often closer: keep the closer one.
    """
    one = THIN["fabric_stitch"].value if stitch is None else stitch
    pulled = np.maximum(rib_pull(pressure, pitch), 0.0)
    with np.errstate(divide="ignore"):
        return np.asarray(one / pulled)


def edge_moment(pull: Many, span: Many, surfaces: int = 2, bays: int = 2) -> np.ndarray:
    """Moment of an edge or tail tube by the fabric's tightness, N m: n T L^2/12, over one or two bays n T L^2/8."""
    return np.asarray(surfaces * np.asarray(pull) * np.asarray(span) ** 2 / (12 if bays > 2 else 8))


def edge_bow(pull: Many, span: Many, bending: float, surfaces: int = 2, bays: int = 2) -> np.ndarray:
    """How far an edge bows in between what holds it, m: n T L^4/(384 E I), five times that over one bay.

    bending: E I, N m2.
    """
    return np.asarray(surfaces * np.asarray(pull) * np.asarray(span) ** 4 * (1 if bays > 2 else 5) / (384 * bending))


def use(
    pull: Many, strength: Many, span: Many, modulus: float, stress: float, surfaces: int = 2, bays: int = 2
) -> np.ndarray:
    """(2, n) uses at ultimate load: the cloth by T/strength, the edge by M/(Z F).

    pull T N/m at ultimate pressure, strength N/m in service, span m, modulus Z m3, stress F Pa of the edge.
    """
    edge = edge_moment(pull, span, surfaces, bays) / (modulus * stress)
    return np.array(np.broadcast_arrays(np.asarray(pull) / strength, edge))


def working(
    at_rest: float,
    stiffness: float,
    pressure: float,
    pitch: float,
    strength: float,
    span: float,
    modulus: float,
    stress: float,
    surfaces: int = 2,
    bays: int = 2,
) -> tuple[Step, ...]:
    """One bay of fabric and the edge beside it, pressure at ultimate load."""
    t = float(tension(*(np.asarray(v) for v in (at_rest, stiffness, pressure, pitch))))
    cloth, edge = (
        float(v) for v in use(np.asarray(t), np.asarray(strength), np.asarray(span), modulus, stress, surfaces, bays)
    )
    air = (("p", pressure, "Pa"), ("b", pitch, "m"))
    m = float(edge_moment(np.asarray(t), np.asarray(span), surfaces, bays))
    formula = f"n T L^2/{12 if bays > 2 else 8}"
    return (
        Step(
            "tension",
            "T^3 - T_0 T^2 - K p^2 b^2/24 = 0",
            (("T_0", at_rest, "N/m"), ("K", stiffness, "N/m"), *air),
            t,
            "N/m",
            "statics",
        ),
        Step(
            "sag",
            "w = p b^2/(8 T)",
            (*air, ("T", t, "N/m")),
            float(sag(np.asarray(t), np.asarray(pressure), np.asarray(pitch))),
            "m",
            "statics",
        ),
        Step("pull on a rib", "p b", air, pressure * pitch, "N/m", "statics"),
        Step(
            "edge, bent by tightness",
            formula,
            (("n", float(surfaces), "1"), ("T", t, "N/m"), ("L", span, "m")),
            m,
            "N m",
            "statics",
        ),
        *margin("cloth", cloth),
        *margin("edge", edge),
    )


def last_rib(pull: float, span: float, modulus: float, stress: float) -> float:
    """Use of the last rib bent sideways by both surfaces' tightness between its spars, 2 T L^2/8 over Z F."""
    return math.nan if modulus <= 0 else 2 * pull * span**2 / 8 / (modulus * stress)
