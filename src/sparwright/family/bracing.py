"""Struts and wires with their ends, as the file says them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import RoundTube, words


@dataclass(frozen=True, kw_only=True)
class StrutEnd:
    """Where a strut or wire ends: a fuselage node, a spar of a wing at a buttline, or a tube of a tail surface."""

    node: str = words("fuselage node", "")
    wing: str = words("wing, instead of a node", "")
    spar: str = words("spar of that wing", "")
    buttline: float = number("m", "buttline on the wing", 0.0)
    tail: Literal["", "tailplane", "fin"] = words("tail surface, instead of a node", "")
    tube: Literal["", "spar", "leading"] = words("tube of its fixed frame: the spar or the leading edge", "")
    along: float = number("m", "where on that tube: buttline of the tailplane, height over the fin's root", 0.0)
    fitting: str = words("fitting it is held by; left out: not drawn", "")
    piece: str = words("what it ends in: a strut_piece, or for a wire fork or turnbuckle", "")


@dataclass(frozen=True, kw_only=True)
class Strut:
    """A strut with its two ends; built on both sides unless both ends are on the centreline."""

    name: str = words("name")
    ends: tuple[StrutEnd, StrutEnd] = words("its two ends")
    tube: RoundTube = words("tube stock")
    fairing: Literal["round", "streamline"] = words("shape across the wind", "round")
    faired_width: float = number("m", "width across the wind where it is faired", 0.0)


@dataclass(frozen=True, kw_only=True)
class Wire:
    """A bracing wire with its rigging tension."""

    name: str = words("name")
    ends: tuple[StrutEnd, StrutEnd] = words("its two ends")
    diameter: float = number("m", "diameter of the wire or cable")
    construction: Literal["1x19", "7x7", "7x19"] = words("strands by wires of the cable", "1x19")
    tension: float = number("N", "rigging tension at rest")
