"""The caution every report, sheet and book carries."""

from __future__ import annotations

CAUTION = (
    "Calculated values, not an approval. A qualified person checks the design; the local authority's rules govern. "
    "Proof-load before first flight."
)
