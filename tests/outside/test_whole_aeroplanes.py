"""Published aeroplanes, foretold from their printed size, weight and power by one rule for the rest.

Sources: fales-1917, nasa-sp-468, faa-tcds-2a13 (aeroplanes/geometry.toml: what was read and what is recalled). The
predictions (aeroplanes/predictions.toml) were committed before the measurements; here they are worked out again.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from numpy.testing import assert_allclose
from published_family import FOOT, POUND, chord, geometry, model, wing_places
from whole_aeroplanes import ASKED, committed, predicted

import sparwright

KEYS = tomllib.loads((Path(sparwright.__file__).parent / "data" / "sources.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", geometry())
def test_the_model_has_the_printed_area_span_and_weight(name: str) -> None:
    g, m = geometry()[name], model(name)
    assert g["report"].split(",")[0] in KEYS
    spans = [2 * place[4] for place in wing_places(g)]
    assert_allclose(sum(spans) * chord(g) / FOOT**2, g["area"], rtol=1e-9, atol=0)
    assert_allclose(max(2 * w.panels[-1].tip_buttline for w in m.wings) / FOOT, max(w["span"] for w in g["wings"]),
                    rtol=1e-4, atol=0)  # fmt: skip
    assert_allclose(m.limits.max_mass, g["mass"] * POUND, rtol=1e-9, atol=0)
    assert len(m.wings) == len(g["wings"])


@pytest.mark.long
@pytest.mark.parametrize("name", geometry())
def test_the_predictions_come_out_as_committed(name: str) -> None:
    """Within 2 per cent: room for the last digits of another machine and small repairs, not for another method."""
    now, then = predicted(name), committed()[name]
    for asked in ASKED:
        band = getattr(now, asked)
        assert_allclose((band.value, band.low, band.high), then[asked], rtol=0.02, atol=0.0, err_msg=asked)
    assert_allclose((now.turning, now.diameter, now.pitch), [then[k] for k in ("turning", "diameter", "pitch")],
                    rtol=0.02, atol=0)  # fmt: skip
