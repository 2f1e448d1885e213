"""What is left over and what it could still make; and what could give where a piece of cloth falls short.

Lengths in m, rectangles in cm (along the cloth, across it). What small makes take, and what a change saves, stands in
`knowledge/lists/remnants.yaml`; nothing here knows a make by name.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.need import cloth, layout, tables
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, short
from advisor.need.layout import Envelope
from advisor.need.reports import GiveLine, LeftPart, PiecePart, SmallMakeLine
from advisor.words_form import words_of

Rectangle = tuple[float, float]
MOST_MAKES = 6
SHORTENS_AT_MOST = 0.25
"""Share of a garment's length beyond which shortening makes another garment of it."""
SHORTENS_BY_CM = 2
LEAST_SAVED_M = 0.02
BODY = 0.4
"""A piece this large beside the largest belongs to the body of the garment, and to what is shortened."""


def rectangles_in(space: Rectangle, wanted: Rectangle, turns: bool) -> int:
    """How many rectangles of a size lie in rows in a larger one, all the same way; `turns` if the grain may run either way."""

    def rows(along: float, across: float) -> int:
        return int((space[0] + 1e-9) // along) * int((space[1] + 1e-9) // across)

    return max(rows(*wanted), rows(wanted[1], wanted[0]) if turns else 0)


def could_make(
    sure: Sequence[Rectangle], may: Sequence[Rectangle], table: tables.Remnants, base: Ground
) -> list[SmallMakeLine]:
    """What fits into the pieces left, those that surely fit first and of them the largest."""
    found: list[tuple[bool, float, SmallMakeLine]] = []
    for make_id, make in table.makes.items():
        if base.weight_gsm and not make.gsm[0] <= base.weight_gsm.mid <= make.gsm[1]:
            continue
        if base.has_any(make.lacks):
            continue
        wanted = (make.along_cm, make.across_cm)
        times = [sum(rectangles_in(space, wanted, make.turns) for space in spaces) // make.count for spaces in (sure, may)]
        if not max(times):
            continue
        sized = make.count * make.along_cm * make.across_cm
        line = SmallMakeLine(make_id, make.name, times[0] or times[1], "sure" if times[0] else "may apply", make.caution)
        found.append((not times[0], -sized, line))
    return [line for *_, line in sorted(found, key=lambda f: f[:2])[:MOST_MAKES]]


def left_over(had_m: float, needed: Amount, base: Ground, gaps: Iterable[Rectangle] = ()) -> LeftPart | None:
    """What remains of `had_m` (unwashed) after a need of `needed`, as it lies washed; None where only snips remain."""
    if base.width_cm is None:
        return None
    table = tables.read_table(tables.Remnants, base.folders)
    cases = base.shrinks.cases()
    over = [max(0.0, had_m - need) for need in (needed.high, needed.expected, needed.low)]
    lengths = [cloth.after_washing(o, along) for o, (along, _) in zip(over, reversed(cases), strict=True)]
    widths = [cloth.after_washing(base.width_cm, across) for _, across in cases]
    least = table.least_cm.value
    between = [gap for gap in gaps if min(gap) >= least]
    if lengths[1] * 100 < least and not between:
        return None
    sure, may = [[(length * 100, wide), *between] for length, wide in ((lengths[0], min(widths)), (lengths[1], widths[1]))]
    return LeftPart(
        short(Amount.of(lengths)), round(widths[1], 1), [(round(a), round(b)) for a, b in between],
        could_make(sure, may, table, base),
    )  # fmt: skip


def what_gives(
    piece: PiecePart, needed: Amount, base: Ground, pieces: Sequence[Envelope] = (), features: Iterable[str] = (), one_way: bool = False
) -> list[GiveLine]:
    """What could give where a piece is short, those that would be enough first, the least change among them first.

    Where the pieces of the make are known, a change is laid out anew and what it saves is the difference in length;
    else it is what the knowledge says of it.
    """
    if piece.serves == "yes":
        return []
    table = tables.read_table(tables.Remnants, base.folders)
    asked = set(features)
    if not layout.can_pack():
        pieces = ()
    lines: list[GiveLine] = []
    for give_id, give in table.gives.items():
        if give.lays_both_ways and one_way:
            continue
        saves = _saves(give, needed, piece, pieces, asked)
        do = give.do
        if give.shortens:
            saves, do = _shorter(give, needed, piece, pieces)
        if saves is None or saves.high < LEAST_SAVED_M:
            continue
        enough = _enough(saves, piece.short_m)
        lines.append(GiveLine(give_id, do, short(saves), enough, give.source))
    if lines and all(line.enough == "no" for line in lines):
        lines.append(_together(lines, piece.short_m, table))
    return sorted(lines, key=lambda line: ("yes", "maybe", "no").index(line.enough))


def _together(lines: Sequence[GiveLine], lacks: Amount, table: tables.Remnants) -> GiveLine:
    """The first few changes that cover together what no single one does; all of them where even that falls short."""
    kept: list[GiveLine] = []
    sums = [0.0, 0.0, 0.0]
    for line in lines:
        kept.append(line)
        sums = [a + b for a, b in zip(sums, (line.saves_m.low, line.saves_m.expected, line.saves_m.high), strict=True)]
        if sums[1] >= lacks.expected:
            break
    names = ", ".join(table.gives[line.give].name for line in kept)
    saves = Amount(*sums)
    return GiveLine("together", f"Together: {names}.", short(saves), _enough(saves, lacks), "common practice")


def _enough(saves: Amount, lacks: Amount) -> str:
    """Whether a saving covers what is lacking: for certain, in the middle of both, or only at best."""
    if saves.low >= lacks.high - 1e-9:
        return "yes"
    return "maybe" if saves.expected >= lacks.expected - 1e-9 or saves.high >= lacks.high - 1e-9 else "no"


def _named(piece: Envelope, names: Iterable[str]) -> bool:
    said = words_of(piece.name)
    return any(all(w in said for w in words_of(name)) for name in names)


def _saves(
    give: tables.Give, needed: Amount, piece: PiecePart, pieces: Sequence[Envelope], features: set[str]
) -> Amount | None:
    """What a change saves, in m; None where it does not hold for this make."""
    if give.pieces and pieces:
        named = [p for p in pieces if _named(p, give.pieces)]
        if not named:
            return None
        freed = sum(p.along_cm * p.across_cm * p.cut for p in named) * give.frees / 100
        by_area = freed / piece.after_washing_cm.expected / 100
        if give.frees >= 100:
            rest = [p for p in pieces if p not in named]
            laid = [layout.lay_out(some, piece.after_washing_cm.expected).length_cm / 100 if some else 0.0 for some in (pieces, rest)]
            return Amount.of([by_area, max(0.0, laid[0] - laid[1]), (by_area + max(0.0, laid[0] - laid[1])) / 2])
        return Amount(by_area / 2, by_area, by_area)
    if give.features and not features & set(give.features):
        return None
    if give.cm2 is not None:
        wide = piece.after_washing_cm.expected * 100
        return Amount(*(area / wide for area in give.cm2))
    if give.pct is not None:
        return Amount(*(needed.expected * share / 100 for share in give.pct))
    return None


def _shorter(
    give: tables.Give, needed: Amount, piece: PiecePart, pieces: Sequence[Envelope]
) -> tuple[Amount | None, str]:
    """Shortening the longest pieces: where they are known, by as much as the piece lacks, laid out anew."""
    if not pieces or give.pct is None:
        return (Amount(*(needed.expected * share / 100 for share in give.pct)) if give.pct else None), give.do + " by a hand's breadth."
    largest = max(p.along_cm * p.across_cm for p in pieces)
    body = [p for p in pieces if not p.bias and p.along_cm * p.across_cm >= BODY * largest]
    longest = max((p.along_cm for p in body), default=0.0)
    wide = piece.after_washing_cm.expected
    whole = layout.lay_out(pieces, wide).length_cm
    lacks = piece.short_m.expected * 100
    saved, cut = 0.0, 0.0
    while cut < longest * SHORTENS_AT_MOST and saved < lacks:
        cut += SHORTENS_BY_CM
        cut_off = [
            Envelope(p.name, p.along_cm - cut, p.across_cm, p.cut) if p in body and p.along_cm > longest * 0.8 else p for p in pieces
        ]
        saved = max(0.0, whole - layout.lay_out(cut_off, wide).length_cm)
    return Amount(saved / 200, saved / 100, saved / 100), f"{give.do} by {cut:g} cm."
