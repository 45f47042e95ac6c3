"""How the face grain of webs, noses and skins lies, as the family file says it: from the span, along which they lie."""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.family.model import Model, Wing


def said_grains(model: Model) -> tuple[tuple[str, float], ...]:
    """(how the numbers of parts begin, face grain from their length in rad) for every sheet that says it."""
    return tuple(said for wing in model.wings for said in _of_wing(f"{model.name}-{wing.name}-", wing))


def _of_wing(begins: str, wing: Wing) -> Iterator[tuple[str, float]]:
    for spar in wing.spars:
        yield f"{begins}{spar.name.upper()}-WEB", spar.web.grain
    for skin in wing.skins:
        yield f"{begins}SKIN-{skin.name.upper()}", skin.grain
    if wing.aileron is not None and wing.aileron.frame is not None:
        frame = wing.aileron.frame
        if frame.nose is not None:
            yield f"{begins}AILERON-NOSE", frame.nose.grain
