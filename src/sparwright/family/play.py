"""Play in the controls as the file says it: how loose a joint may be before it is renewed."""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number


@dataclass(frozen=True, kw_only=True)
class ControlPlay:
    """The most play that is let stand in each kind of joint; what is looser is renewed."""

    rod_end: float = number("m", "of a rod end on its bolt and ball: all the way along the rod, from pull to push")
    pivot: float = number("m", "of a hub or bearing a lever turns on: bore less bolt or tube")
    hinge: float = number("m", "of a surface's hinge: hole less bush")


RECORDS = (ControlPlay,)
