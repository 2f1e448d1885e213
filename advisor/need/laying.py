"""A rough layout answered: the pieces of a make, or pieces in words, on the width of the cloth; what that takes and leaves."""

from __future__ import annotations

import re
from collections.abc import Sequence

from advisor.errors import Unclear
from advisor.makes import PatternPiece
from advisor.need import tables
from advisor.need.buying import envelope_of
from advisor.need.cloth import Amount, after_washing
from advisor.need.ground import Ground, piece_in_hand, short, sources_of
from advisor.need.layout import free_rectangles, lay_out, least_length
from advisor.need.remnant import left_over, what_gives
from advisor.need.reports import LaidPiece, LayoutPart, NeedReport
from advisor.need.units import read_length, within

ESTIMATE = (
    "an estimate from the boxes round the pieces: curved pieces nest closer, and a slip of the grain, a flaw or a match takes more; "
    "lay the paper out before you cut or buy to the centimetre"
)
SINGLE = "opened out in a single layer, right side up: turn every second copy of a piece over, so that you get a left and a right"


def read_piece(text: str, units: str = "metric") -> PatternPiece:
    """A piece from words: 'front 72 x 30 cm, cut 2', 'back 74 x 28, fold', 'tie 90 x 10, cut 2, bias'. Length comes first.

    A bare figure is cm, or inches for imperial `units`. Raises `Unclear`.
    """
    first, *rest = [part.strip() for part in text.split(",")]
    match = re.match(r"(.*?)\s*([\d.,/ ]+?)\s*([a-z\"″]*)\s*[x×]\s*([\d.,/ ]+?)\s*([a-z\"″]*)$", first, re.I)
    expected = "its name, length x width, and if need be how often it is cut, fold or bias"
    if not match or not match[1].strip():
        raise Unclear(f"piece '{text[:50]}'", expected, "'front 72 x 30 cm, cut 2'")
    bare = "in" if units == "imperial" else "cm"
    behind = match[5] or match[3] or bare
    along, across = (
        within(read_length(f"{figure} {unit}", bare, f"piece '{text[:30]}'") / 10, 1, 400, f"piece '{match[1][:30]}'", "cm")
        for figure, unit in ((match[2], match[3] or behind), (match[4], behind))
    )
    cut, fold, bias = 1, False, False
    for word in rest:
        if copies := re.fullmatch(r"(?:cut|x|×)?\s*(\d{1,2})(?:\s*x)?", word.lower()):
            cut = int(within(int(copies[1]), 1, 40, "copies of a piece", ""))
        elif word.lower() in ("fold", "on fold", "on the fold"):
            fold = True
        elif word.lower() in ("bias", "on the bias"):
            bias = True
        else:
            raise Unclear(f"'{word[:30]}' of piece '{match[1][:30]}'", "cut and a number, fold, or bias", "cut 2")
    return PatternPiece(match[1].strip(), along, across, cut, fold, bias)


def layout(
    base: Ground, pieces: Sequence[PatternPiece], *, one_way: bool = False, features: Sequence[str] = ()
) -> NeedReport:
    """The pieces on the cloth, laid out at the best, middle and worst width that washing leaves; drawn at the middle one.

    `buy_m`: low is the bare area of the envelopes at best, expected their layout, high the worst layout with the trade's
    spare share. The grain is kept in every piece and, where the cloth has a way up, the pieces' heads point one way; boxes
    cannot show what a two-way layout saves.
    """
    if base.width_cm is None:
        raise Unclear("no width", "the cloth's width", "--width 140")
    gap, spare = (base.laying().piece_gap_cm.value, base.laying().spare_high_pct.value / 100)
    boxes = [envelope_of(piece) for piece in pieces]
    cases = base.shrinks.cases()
    widths = [after_washing(base.width_cm, across) for _, across in cases]
    laid = [lay_out(boxes, wide, gap) for wide in widths]
    middle = laid[1]
    least = least_length(boxes, widths[0])
    before = [length / 100 / (1 - along) * (1 + base.spare) for length, (along, _) in zip((least, middle.length_cm, laid[2].length_cm), cases, strict=True)]
    needed = Amount.of([before[0], before[1], before[2] * (1 + spare)])
    up = one_way or base.one_way
    gaps = [(round(f.along_cm, 1), round(f.across_cm, 1)) for f in free_rectangles(middle, tables.read_table(tables.Remnants, base.folders).least_cm.value)]
    part = LayoutPart(
        round(middle.width_cm, 1), short(Amount.of([one.length_cm / 100 for one in laid])), round((1 - middle.free) * 100, 1), up,
        [LaidPiece(p.name, p.along_from_cm, p.across_from_cm, round(p.along_cm, 1), round(p.across_cm, 1), p.bias) for p in middle.placed],
        gaps,
    )  # fmt: skip
    copies = sum(box.cut for box in boxes)
    because = [
        f"{copies} pieces, {gap:g} cm apart, on {middle.width_cm:.4g} cm{' left after washing' if widths[1] < base.width_cm else ''}: "
        f"{middle.length_cm:.0f} cm of cloth, {part.used_pct:.0f} % of it covered",
        f"no layout of these boxes is shorter than {least_length(boxes, middle.width_cm):.0f} cm, their bare area",
        f"the high figure keeps {spare:.0%} in hand for a crooked end or a flaw",
        *base.shrink_notes(),
    ]
    notes = [*base.notes, ESTIMATE, SINGLE]
    if up:
        notes.append("the cloth has a way up: every piece lies with its head the same way")
    elif base.may_be_one_way:
        notes.append("this cloth may have a way up: look before you turn a piece head to foot")
    if any(box.bias for box in boxes):
        notes.append("a piece on the bias is drawn as the square round it at 45°; smaller pieces fit into its corners")
    piece = None
    if base.have_m is not None:
        piece = piece_in_hand(base, base.width_cm, needed)
        piece.gives = what_gives(piece, needed, base, boxes, features, one_way=True)  # boxes gain nothing by turning
    bought = base.rounded(needed)
    had = base.have_m if base.have_m is not None else bought.expected
    left = left_over(had, needed, base, gaps) if piece is None or piece.serves != "no" else None
    return NeedReport(
        "layout", bought, because, notes, base.cautions("layout"), sources_of("common practice"),
        piece=piece, layout=part, left=left, cloth=base.cloth,
    )  # fmt: skip

