"""What the strength report needs of a run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from sparwright.base.check import Check, Result
from sparwright.base.ran import Ran
from sparwright.family.model import Model
from sparwright.loads.diagram import Envelope
from sparwright.margins.chain import Margins
from sparwright.mass.record import Balance


class Proved(Ran, Protocol):
    """As much of a run as is told here; run.RunResult has it."""

    @property
    def balance(self) -> Balance: ...
    @property
    def envelope(self) -> Envelope: ...
    @property
    def margins(self) -> Margins: ...


@dataclass(frozen=True)
class Asked:
    """A model and its run."""

    model: Model
    ran: Proved
    units: str  # "inch" or "millimetre"

    @property
    def origin(self) -> str:
        """Family, model, program and file, for the foot of a picture."""
        r = self.ran
        return f"{r.family} {r.model}, {r.program}, design file sha256 {r.file_sha256[:12]}"

    @property
    def checks(self) -> tuple[Check, ...]:
        """Checks of strength, of proof load and of aeroelastics, in the order of the run."""
        return tuple(c for c in self.ran.checks if c.id.split(".", 1)[0] in ("strength", *LATER))

    @property
    def lost(self) -> tuple[str, ...]:
        """Cases that are not worked out, or not in one variant of the frame, each with its reason."""
        m = self.ran.margins
        return tuple(dict.fromkeys((*m.lost, *(m.answer.why if m.answer else ()))))

    def of(self, room: str) -> tuple[tuple[Result, ...], tuple[Check, ...]]:
        """Results and checks whose ids begin with a word."""
        start = f"{room}."
        return (
            tuple(r for r in self.ran.results if r.id.startswith(start)),
            tuple(c for c in self.ran.checks if c.id.startswith(start)),
        )


LATER = ("proof", "aeroelastic")
"""Rooms whose sections appear when their results exist."""
