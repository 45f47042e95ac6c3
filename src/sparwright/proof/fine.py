"""The air along a span laid on the frame in pieces shorter than a strip, so that shear does not step."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sparwright.base.record import locked
from sparwright.loads.laid_out import SpanLoad
from sparwright.proof.bays import QUARTER, Outline
from sparwright.proof.loaded import PIECE, on_each, takers_word
from sparwright.structure.bar import Skeleton
from sparwright.structure.masses import Carriers


def finer(span: SpanLoad) -> SpanLoad:
    """The same running loads on shorter strips."""
    count = np.ceil(span.width / PIECE).astype(int)
    y = np.concatenate(
        [a + w * ((np.arange(n) + 0.5) / n - 0.5) for a, w, n in zip(span.y, span.width, count, strict=True)]
    )

    def each(running: np.ndarray) -> np.ndarray:
        return locked(np.repeat(running, count))

    return replace(
        span, y=locked(y), width=each(span.width / count), chord=each(span.chord), normal=each(span.normal),
        chordwise=each(span.chordwise), torsion=each(span.torsion), hinged=each(span.hinged), hinge=each(span.hinge),
    )  # fmt: skip


def laid_span(skeleton: Skeleton, carriers: Carriers, o: Outline, span: SpanLoad, side: str) -> np.ndarray:
    """(n, 6) what the nodes get of a half wing's air, each strip in its middle."""
    y = np.asarray(span.y)
    nose = np.stack([np.interp(y, o.edges, o.nose[:, k]) for k in range(3)], axis=1)
    here = np.clip(np.searchsorted(o.edges, y) - 1, 0, len(o.width) - 1)
    mirror = np.array([1.0, -1.0 if side == "L" else 1.0, 1.0])
    places = (nose + QUARTER * span.chord[:, None] * o.along[here]) * mirror
    places[:, 1] = y * mirror[1]
    force = (span.normal[:, None] * o.normal[here] + span.chordwise[:, None] * o.along[here]) * span.width[:, None]
    turn = np.outer(span.torsion * span.width, [0.0, 1.0, 0.0])
    push = np.hstack([force * mirror, turn])
    return np.asarray(on_each(skeleton, carriers, f"{takers_word(o.name, 0)}:{side}", places, push).sum(axis=0))
