"""Faults in a propeller's blade table and an engine's part throttle: each said with its line, key and reason."""

import pytest
from families import PROBE, problems, reading, told

ROWS = (
    (0.30, "4 in", "31 deg", 0.16),
    (0.45, "5 in", "23.5 deg", 0.13),
    (0.60, "5 in", "18 deg", 0.117),
    (0.75, "4.2 in", "14.7 deg", 0.117),
    (0.90, "3 in", "12.3 deg", 0.10),
    (1.00, "2 in", "11 deg", 0.09),
)
PITCH = 'diameter = "68 in"\npitch = "42 in"\n'
CURVE_END = 'mark = "invented"\ncurve = ['


def table(rows=ROWS, **changed) -> str:
    """The probe with a blade table; changed: {row: text in place of the row}."""
    lines = [f'  {{ radius = {r}, chord = "{c}", angle = "{a}", thickness = {t} }},' for r, c, a, t in rows]
    for i, text in changed.items():
        lines[int(i[3:])] = text
    return PROBE.replace(PITCH, PITCH + "blade = [\n" + "\n".join(lines) + "\n]\n", 1)


def engine(text: str) -> str:
    """The probe with something more in P1's engine."""
    at = PROBE.index("[models.P1.engine]")
    return PROBE[:at] + PROBE[at:].replace("gear = 2.6\n", f"gear = 2.6\n{text}\n", 1)


def row(radius=0.6, chord="5 in", angle="18 deg", rest="thickness = 0.117") -> str:
    return f'  {{ radius = {radius}, chord = "{chord}", angle = "{angle}", {rest} }},'


BLADE = "models.P1.propeller.blade"
CASES = [
    ("too few", table(ROWS[:4]), "blade = [", BLADE, "at least 5"),
    ("radii fall", table(row3=row(0.55, "4.2 in", "14.7 deg")), "0.55", f"{BLADE}.3.radius", "must rise"),
    ("begins outboard", table((*[(x / 100, "4 in", "15 deg", 0.12) for x in (56, 66, 75, 85, 100)],)),
     "0.56", f"{BLADE}.0.radius", "first station"),
    ("ends short of the tip", table((*ROWS[:5], (0.95, "2 in", "11.5 deg", 0.09))), "0.95", f"{BLADE}.5.radius",
     "the tip"),
    ("section and thickness", table(row2=row(rest='thickness = 0.118, section = "lifting"')), "0.118",
     f"{BLADE}.2.thickness", "not both"),
    ("neither", table(row2=row(rest='section = ""')), 'section = ""', f"{BLADE}.2", "thickness of a Clark Y"),
    ("a section not there", table(row2=row(rest='section = "liftin"')), '"liftin"', f"{BLADE}.2.section", "'lifting'"),
    ("chords overlap", table(row0=row(0.05, "8 in", "20 deg")), '"8 in"', f"{BLADE}.0.chord", "overlap"),
    ("too thick", table(row0=row(0.3, "4 in", "31 deg", "thickness = 0.3")), "thickness = 0.3 ", f"{BLADE}.0.thickness",
     "0.21"),
    ("pitch of another blade", table().replace('pitch = "42 in"', 'pitch = "49 in"', 1), 'pitch = "49 in"',
     "models.P1.propeller.pitch", "is a pitch of"),
    ("part throttle above the curve", engine('part_throttle = [{ speed = "5500 rpm", power = "40 hp", consumption = '
     '"0.5 kg/kWh" }]'), '"40 hp"', "models.P1.engine.part_throttle.0.power", "less than the curve"),
    ("part throttle off the curve", engine('part_throttle = [{ speed = "2000 rpm", power = "4 hp", consumption = '
     '"0.5 kg/kWh" }]'), '"2000 rpm"', "models.P1.engine.part_throttle.0.speed", "within the speeds"),
    ("greatest speed below the power", engine('greatest_speed = "5000 rpm"'), 'greatest_speed = "5000 rpm"',
     "models.P1.engine.greatest_speed", "speed of greatest power"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_has_its_line_key_and_reason(text: str, piece: str, key: str, says: str) -> None:
    told(text, piece, key, says)


def test_a_good_table_is_read() -> None:
    rows = reading(table(row2=row(rest='section = "lifting"'))).models["P1"].propeller.blade
    assert [r.radius for r in rows] == [r[0] for r in ROWS]
    assert rows[2].section == "lifting" and rows[2].thickness is None and rows[0].thickness == 0.16


def test_a_station_without_its_chord_names_it() -> None:
    (found,) = problems(table(row2="  { radius = 0.6, angle = '18 deg', thickness = 0.117 },"))
    assert found.key == f"{BLADE}.2.chord" and "missing" in found.wanted
