"""`pictures`: what was worked out of one model and the whole aeroplane, as SVG; all its parts in space, as glTF."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from sparwright.base.safety import CAUTION
from sparwright.cli.answers import models, read, run
from sparwright.cli.progress import Progress
from sparwright.cli.screen import say


def command(args: Namespace) -> int:
    """Write the pictures; 0 when they are written. Raises CannotWrite, DesignProblem, FileProblems."""
    from sparwright.charts.control_runs import control_pictures
    from sparwright.charts.in_cockpit import cockpit_pictures
    from sparwright.charts.of_flight import pictures
    from sparwright.charts.of_loads import load_pictures
    from sparwright.charts.of_performance import performance_pictures
    from sparwright.charts.of_sections import left_out
    from sparwright.charts.on_ground import pictures as on_ground
    from sparwright.charts.stick_force import stick_pictures
    from sparwright.charts.whole import whole_pictures
    from sparwright.output.aeroplane_glb import aeroplane_glb
    from sparwright.output.atomic import folder
    from sparwright.output.pictures import write_pictures

    family = read(args.file)
    (name,) = models(family, args.model)
    folder(Path(args.out))  # first, so that a folder that cannot be written is told before the work
    with Progress(f"working out {name}") as bar:
        ran = run(family, name, bar, measured=False)
        bar(0.95, "pictures")
        origin = f"{ran.family} {name}, {ran.program}, design file sha256 {ran.file_sha256[:12]}"
        model = family.models[name]
        units = args.units or model.drawing_units
        drawn = {**pictures(ran.flight, origin, units), **on_ground(ran.balance, ran.flight, origin, units)}
        drawn |= performance_pictures(ran.flight, origin, units)
        drawn |= load_pictures(model, ran.envelope, ran.margins.laid, ran.shaken, origin, units)
        drawn |= {**cockpit_pictures(model, origin, units), **whole_pictures(model, ran.assembly, origin)}
        drawn |= {**control_pictures(model, origin, units), **stick_pictures(ran.curves, name, origin, units)}
        in_space = {"aeroplane.glb": aeroplane_glb(model, ran.assembly, ran.program)}
    paths = write_pictures(drawn, Path(args.out), name, in_space)
    for path, title in zip(paths, (*(p.title for p in drawn.values()), "every part in space, glTF"), strict=True):
        say(f"{path}: {title}\n")
    for why in left_out(ran.flight.flown):
        say(f"{why}\n")
    say(f"{CAUTION}\n")
    return 0
