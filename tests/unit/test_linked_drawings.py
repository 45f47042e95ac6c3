"""Ways between drawings: whichever of two names the other, both say so."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from sparwright.plans.block import Drawing, linked

KEYS = "abcdef"
NAMED = st.lists(st.sampled_from(KEYS), max_size=4, unique=True).map(tuple)


@given(st.fixed_dictionaries({k: st.tuples(NAMED, NAMED) for k in KEYS}))
def test_each_way_is_known_at_both_ends(said: dict[str, tuple[tuple[str, ...], tuple[str, ...]]]) -> None:
    found = {d.key: d for d in linked([Drawing(k, k, (), comes_from=a, goes_to=b) for k, (a, b) in said.items()])}
    for one in KEYS:
        for other in KEYS:
            way = one in said[other][0] or other in said[one][1]  # from one to the other
            assert (other in found[one].goes_to) == way == (one in found[other].comes_from)


def test_what_is_said_stays_first_and_once() -> None:
    a, b = linked([Drawing("a", "A", (), goes_to=("b", "c")), Drawing("b", "B", (), comes_from=("general", "a"))])
    assert a.goes_to == ("b", "c") and b.comes_from == ("general", "a")
