"""A model's parts and outlines as a three-dimensional file."""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.data.loader import materials
from sparwright.family.model import Model
from sparwright.output.gltf import Piece, glb
from sparwright.parts.part import Assembly, Formed, Part, Skin
from sparwright.parts.solids import HERE, drawn
from sparwright.plans.shells import shells

COARSE = 2e-4  # m by which outlines of plates are simplified


def aeroplane_glb(model: Model, assembly: Assembly, program: str) -> bytes:
    """Every part that is drawn, by its number, and the outlines of what is not, as binary glTF."""
    return glb((*_parts(assembly), *_outlines(model, assembly)), f"{model.family} {model.name}, {model.title}", program)


def _parts(assembly: Assembly) -> Iterator[Piece]:
    for part in assembly.parts:
        found = drawn(part, COARSE)
        if found is not None:
            said: dict[str, str | float] = {
                "name": part.name,
                "stock": part.stock,
                "mass, kg": part.mass,
                "material": part.material,
            }
            yield Piece(part.number, _kind(part), *found, said, through=isinstance(part.shape, Skin))


def _kind(part: Part) -> str:
    if part.material in materials():
        return materials()[part.material].kind
    return "rubber" if part.group == "gear" and isinstance(part.shape, Formed) else "other"


def _outlines(model: Model, assembly: Assembly) -> Iterator[Piece]:
    for shell in shells(model, assembly.parts):
        said = {"name": f"outline of the {shell.name}: not drawn as parts yet"}
        name = f"{model.name}-outline-{shell.name.replace(' ', '-')}"
        yield Piece(name, shell.kind, shell.solid, ((HERE, False),), said, through=shell.kind == "fabric")
