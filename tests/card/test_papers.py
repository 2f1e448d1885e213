"""Papers, and how cards lie on a sheet."""

from __future__ import annotations

import pytest

from advisor.card.papers import CARDS, SHEETS, alone, on_sheet, one_of
from advisor.errors import Unclear


@pytest.mark.parametrize("size", CARDS)
@pytest.mark.parametrize("sheet", SHEETS)
def test_cards_on_a_sheet_overlap_or_lie_beyond_its_edge(size, sheet):
    try:
        laid = on_sheet(size, sheet)
    except Unclear:
        assert (size, sheet) == ("letter", "a4")
        return
    paper = CARDS[size]
    taken = [(x, y, x + paper.width_mm, y + paper.height_mm) for x, y in laid.places]
    for left, top, right, bottom in taken:
        assert left >= -1e-9 and top >= -1e-9 and right <= laid.width_mm + 1e-9 and bottom <= laid.height_mm + 1e-9
        assert {left, right} <= {*laid.cuts_x, *(round(x, 9) for x in laid.cuts_x)} or all(
            any(abs(edge - cut) < 1e-9 for cut in laid.cuts_x) for edge in (left, right)
        )
        assert all(any(abs(edge - cut) < 1e-9 for cut in laid.cuts_y) for edge in (top, bottom))
    for i, a in enumerate(taken):
        for b in taken[i + 1 :]:
            assert a[2] <= b[0] + 1e-9 or b[2] <= a[0] + 1e-9 or a[3] <= b[1] + 1e-9 or b[3] <= a[1] + 1e-9


@pytest.mark.parametrize(
    ("size", "sheet", "count"), [("a6", "a4", 4), ("a5", "a4", 2), ("index", "a4", 4), ("a6", "letter", 2), ("index", "letter", 4)]
)
def test_a_sheet_holds_fewer_cards_than_it_could(size, sheet, count):
    assert len(on_sheet(size, sheet).places) == count


def test_a_sheet_is_neither_upright_nor_turned():
    for sheet, (wide, high) in SHEETS.items():
        laid = on_sheet("index", sheet)
        assert (laid.width_mm, laid.height_mm) in ((wide, high), (high, wide))


def test_a_card_alone_has_marks_or_another_size_than_its_paper():
    laid = alone("a6")
    assert (laid.width_mm, laid.height_mm, laid.places, laid.cuts_x) == (105, 148, ((0.0, 0.0),), ())


def test_a_card_larger_than_the_sheet_is_laid_on_it():
    with pytest.raises(Unclear, match="a card of size letter on a sheet of a4: expected a size that fits on it: a6, a5, index"):
        on_sheet("letter", "a4")


@pytest.mark.parametrize(("given", "near"), [("a7", "a6"), ("A-5", "a5"), ("lettre", "letter"), ("indx", "index")])
def test_a_wrong_size_has_no_nearest(given, near):
    with pytest.raises(Unclear) as error:
        one_of(given, CARDS, "size")
    assert error.value.nearest == near


def test_capitals_or_spaces_in_a_size_are_refused():
    assert one_of(" A5 ", CARDS, "size") == "a5"
