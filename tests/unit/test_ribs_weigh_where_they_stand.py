"""A rib lies on the frame where it stands, not on the ribs of its part number that are bars of the frame."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from sparwright.run import RunResult
from sparwright.structure.masses import lumps


@pytest.mark.parametrize("name", ["W1", "W3"])
def test_every_piece_of_a_rib_lies_on_nodes_beside_it(ran: Callable[[str], RunResult], name: str) -> None:
    run = ran(name)
    answer = run.margins.answer
    assert answer is not None
    found = lumps(run.flight.flown.model, run.assembly, answer.skeleton)
    assert found.laid is not None
    place, seen = answer.skeleton.frame.place, 0
    up = found.laid.tocsc()
    for i, (group, part) in enumerate(zip(found.group, found.names, strict=True)):
        if group.startswith("wing ") and "-RIB-" in part:
            column = up[:, 6 * i + 2]
            nodes = np.unique(column.indices[np.abs(column.data) > 1e-9] // 6)
            far = float(np.abs(place[nodes, 1] - found.place[i, 1]).min())
            assert far < 0.5, (part, found.place[i], far)
            seen += 1
    assert seen > 20
