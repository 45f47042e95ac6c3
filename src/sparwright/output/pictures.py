"""Pictures into a folder as SVG, whole or not at all."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from sparwright.charts.page import Picture
from sparwright.output.atomic import folder, write_all
from sparwright.output.planset import plain_name
from sparwright.output.svg import picture_svg


def write_pictures(
    pictures: Mapping[str, Picture], out: Path, model: str, others: Mapping[str, bytes] | None = None
) -> tuple[Path, ...]:
    """Write each picture under the model's name and its own, then other files under theirs; gives the paths.

    Raises CannotWrite; then every old picture is as it was unless the fault came while they were put in place.
    """
    out = folder(Path(out))
    files: dict[Path, bytes] = {}
    for name, picture in pictures.items():
        plain, more = plain_name(name), 2
        path = out / f"{plain_name(model)}-{plain}.svg"
        while str(path).lower() in {str(p).lower() for p in files}:  # two sections whose names differ by a mark alone
            path, more = out / f"{plain_name(model)}-{plain}-{more}.svg", more + 1
        files[path] = picture_svg(picture)
    files |= {out / f"{plain_name(model)}-{name}": content for name, content in (others or {}).items()}
    write_all(files)
    return tuple(files)
