"""Pictures into a folder as SVG, whole or not at all."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from sparwright.charts.page import Picture
from sparwright.output.atomic import folder, write_all
from sparwright.output.planset import plain_name
from sparwright.output.svg import picture_svg


def write_pictures(pictures: Mapping[str, Picture], out: Path, model: str) -> tuple[Path, ...]:
    """Write each picture under the model's name and its own; gives the paths.

    Raises CannotWrite; then every old picture is as it was unless the fault came while they were put in place.
    """
    out = folder(Path(out))
    files = {out / f"{plain_name(model)}-{name}.svg": picture_svg(p) for name, p in pictures.items()}
    write_all(files)
    return tuple(files)
