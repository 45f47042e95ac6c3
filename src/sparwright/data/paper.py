"""How far paper and drafting film move, from paper.toml.

>>> PAPER["across_most"].value
0.004
"""

from __future__ import annotations

from sparwright.data.limit import limits

PAPER = limits("paper.toml")
