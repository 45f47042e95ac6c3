"""A changed number goes through everything: what earlier runs left in memory changes no answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest

from sparwright.air.polars import Polars
from sparwright.base.remembered import content, forget
from sparwright.family.model import Family, Model
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.run import run

MODEL = "W1"


def wing(m: Model) -> Model:
    return replace(m, wings=(replace(m.wings[0], incidence=m.wings[0].incidence + 0.002), *m.wings[1:]))


def land(m: Model) -> Model:
    first, *rest = m.wings[0].spars
    spars = (replace(first, land=first.land + 0.0005), *rest)
    return replace(m, wings=(replace(m.wings[0], spars=spars), *m.wings[1:]))


def hinge(m: Model) -> Model:
    w, a = m.wings[0], m.wings[0].aileron
    assert a is not None
    return replace(m, wings=(replace(w, aileron=replace(a, gap=a.gap + 0.001)), *m.wings[1:]))


def node(m: Model) -> Model:
    name, (x, y, z) = next(iter(m.fuselage.nodes.items()))
    return replace(m, fuselage=replace(m.fuselage, nodes={**m.fuselage.nodes, name: (x, y, z + 0.001)}))


def stick(m: Model) -> Model:
    c = m.controls
    assert c is not None
    x, y, z = c.stick.pivot
    return replace(m, controls=replace(c, stick=replace(c.stick, pivot=(x, y, z + 0.001))))


def burns(m: Model) -> Model:
    return replace(m, engine=replace(m.engine, fuel_density=m.engine.fuel_density * 1.01))


CHANGES = [wing, node, stick, burns, *(pytest.param(c, marks=pytest.mark.long) for c in (land, hinge))]


def told(x: Any) -> Any:
    """All numbers and words of results and checks."""
    if is_dataclass(x):
        return {f.name: told(getattr(x, f.name)) for f in fields(x)}
    return [told(i) for i in x] if isinstance(x, (tuple, list)) else repr(x)


@pytest.mark.parametrize("change", CHANGES)
def test_a_changed_number_changes_the_parts_as_if_nothing_were_remembered(
    whinchat: Family, change: Callable[[Model], Model]
) -> None:
    plain = whinchat.models[MODEL]
    before = content(lay_out(plain))
    warm = content(lay_out(change(plain)))
    forget()
    assert content(lay_out(change(plain))) == warm
    assert content(lay_out(plain)) == before
    assert (warm == before) is (change is burns)  # no part hangs on the fuel's density


@pytest.mark.long
@pytest.mark.parametrize("change", [wing, burns])
def test_a_changed_number_changes_a_run_as_if_nothing_were_remembered(
    whinchat: Family, polars: Polars, change: Callable[[Model], Model]
) -> None:
    before = run(whinchat, MODEL, polars=polars, measured=False)  # here, so that all of it is remembered
    other = replace(whinchat, models={**whinchat.models, MODEL: change(whinchat.models[MODEL])})
    warm = run(other, MODEL, polars=polars, measured=False)
    forget()
    fresh = run(other, MODEL, polars=polars, measured=False)
    assert told(warm.results) == told(fresh.results)
    assert told(warm.checks) == told(fresh.checks)
    assert told(warm.results) != told(before.results)


@pytest.mark.long
def test_bodies_are_measured_as_if_nothing_were_remembered(whinchat: Family) -> None:
    plain = whinchat.models[MODEL]
    measure(lay_out(plain))
    warm = measure(lay_out(wing(plain)))
    forget()
    fresh = measure(lay_out(wing(plain)))
    assert warm == fresh
    assert warm.clashes == () or np.isfinite([c.depth for c in warm.clashes]).all()
