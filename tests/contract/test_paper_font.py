"""The font in the package holds what the shop writes, and is the one the sheets are laid out with."""

from __future__ import annotations

import string
from io import BytesIO

import pytest
from fontTools.ttLib import TTFont

from sparwright.output.fonts import font_file, subset
from sparwright.plans.lettering import ABOVE, BELOW, CAPITAL, width
from sparwright.plans.widths import BOLD, REGULAR

SHOP = "′″⅛¼⅜½⅝¾⅞⁄Ø°−±×·–0123456789/"


@pytest.mark.parametrize("bold", [False, True])
def test_font_has_the_marks_of_the_shop_and_tabular_figures(bold):
    font = TTFont(font_file(bold))
    cmap = font.getBestCmap()
    assert [c for c in SHOP if ord(c) not in cmap] == []
    assert len({font["hmtx"][cmap[ord(c)]][0] for c in "0123456789"}) == 1


@pytest.mark.parametrize(("bold", "table"), [(False, REGULAR), (True, BOLD)])
def test_widths_laid_out_with_are_the_fonts_own(bold, table):
    font = TTFont(font_file(bold))
    cmap = font.getBestCmap()
    assert font["head"].unitsPerEm == 1000
    for wide, characters in table.items():
        for c in characters:
            assert font["hmtx"][cmap[ord(c)]][0] == wide, c


@pytest.mark.parametrize("bold", [False, True])
def test_heights_laid_out_with_are_the_fonts_own(bold):
    font = TTFont(font_file(bold))
    glyphs, cmap = font["glyf"], font.getBestCmap()
    assert font["OS/2"].sCapHeight == CAPITAL * 1000
    plain = [glyphs[cmap[ord(c)]] for c in string.ascii_letters + string.digits + "()/,.;:+-=%″′“”’·–×°&"]
    assert max(g.yMax for g in plain) <= ABOVE * 1000
    assert -min(g.yMin for g in plain) <= BELOW * 1000


def test_licence_lies_beside_the_font_and_lets_it_be_embedded():
    assert "SIL Open Font License" in (font_file().parent / "LICENSE.txt").read_text(encoding="utf-8")
    assert TTFont(font_file())["OS/2"].fsType == 0  # installable embedding


def test_subset_holds_its_characters_only_and_repeats():
    font = TTFont(BytesIO(subset("9 3/64″")))
    assert set(map(chr, font.getBestCmap())) == set("9 3/64″")
    subset.cache_clear()
    one = subset("9 3/64″")
    subset.cache_clear()
    assert one == subset("9 3/64″")


def test_width_of_shop_text():
    assert width("9 3/64″", 6.6) == pytest.approx(10 * (0.497 * 4 + 0.200 + 0.350 + width("″", 6.6) / 10), abs=1e-9)
