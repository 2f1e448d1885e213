"""Cloth to buy for a pattern: its table at another width, every part of a make, and a piece in hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.advise import with_parts
from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.makes import Make, NeededRow, PatternPiece, asks_of
from advisor.need import cloth, tables
from advisor.need.cloth import Amount, Shrinks
from advisor.need.fastenings import buttons, loops
from advisor.need.ground import Ground, ground, piece_in_hand, short, sources_of, span
from advisor.need.layout import Envelope, envelope
from advisor.need.remnant import left_over, what_gives
from advisor.need.reports import LeftPart, MakePart, NeedReport, PiecePart, WidthPart
from advisor.need.units import M_PER_YARD, within
from advisor.ranges import Range


def extras_of(folders: Sequence[Path]) -> cloth.Extras:
    """What the chart's notes and the trade add."""
    chart, laying = tables.read_table(tables.WidthChart, folders), tables.read_table(tables.Laying, folders)
    more = chart.additions_yd
    return cloth.Extras(
        more["one_way"] * M_PER_YARD,
        more["large_pieces"] * M_PER_YARD,
        more["large_difference"] * M_PER_YARD,
        chart.large_difference.value * cloth.CM_PER_INCH,
        laying.spare_high_pct.value / 100,
        laying.repeat_least.value,
    )


def chart_of(folders: Sequence[Path]) -> cloth.Chart:
    """The width-conversion chart."""
    table = tables.read_table(tables.WidthChart, folders)
    return cloth.Chart(tuple(Range(*c) for c in table.columns), tuple(tuple(r) for r in table.rows), table.slack_in)


def widest_of(pieces: Iterable[PatternPiece]) -> tuple[float, str]:
    """The width of cloth in cm that the widest piece takes as it lies, and its name."""
    return max(((envelope_of(piece).across_cm, piece.name) for piece in pieces), default=(0.0, ""))


def check_widest(width_cm: float, shrinks: Shrinks, widest_cm: float, name: str = "") -> list[str]:
    """Raises where the widest piece cannot fit; a note where it may not fit after washing."""
    if not widest_cm:
        return []
    called = f"the widest piece ('{name}', {widest_cm:g} cm)" if name else f"the widest piece ({widest_cm:g} cm)"
    left = [cloth.after_washing(width_cm, across) for _, across in shrinks.cases()]
    if max(left) < widest_cm - 1e-9:
        washed = "" if max(left) == width_cm else f", {max(left):.0f} cm after washing"
        raise Unclear(f"cloth {width_cm:g} cm wide{washed}", f"at least as wide as {called}; no length makes up for it")
    if min(left) < widest_cm:
        return [
            f"after washing the cloth may be only {min(left):.0f} cm wide, narrower than {called}: wash before you cut"
        ]
    return []


def width(
    base: Ground,
    *,
    length_m: float,
    from_cm: float,
    one_way: bool = False,
    large_pieces: bool = False,
    repeat_cm: float = 0.0,
    pieces: int = 1,
    widest_cm: float = 0.0,
    with_nap: bool = False,
) -> NeedReport:
    """A pattern's length at one width, at the cloth's width; all that lengthens it; and whether a piece in hand serves."""
    within(length_m, 0.1, 200, "length", "m")
    within(from_cm, 10, 500, "pattern's width", "cm")
    wide = base.width_cm if base.width_cm is not None else from_cm
    rows = [cloth.Row(length_m, from_cm, "with" if with_nap else "without")]
    got = _bought(base, rows, wide, _lay(base, one_way, large_pieces, repeat_cm, pieces), widest_cm)
    return NeedReport(
        "width",
        base.rounded(got.needed),
        got.because,
        got.notes,
        base.cautions("width"),
        sources_of("common practice", "iso-5077"),
        width=got.part,
        piece=got.piece,
        left=got.left,
        cloth=base.cloth,
    )


def _lay(base: Ground, one_way: bool, large: bool, repeat_cm: float, pieces: int) -> cloth.Lay:
    within(repeat_cm, 0, 150, "repeat", "cm")
    within(pieces, 1, 60, "pieces", "")
    return cloth.Lay(one_way or base.one_way, base.may_be_one_way, large, repeat_cm, pieces, base.spare)


@dataclass(frozen=True)
class _Bought:
    """One cloth worked out: its part of the report, a piece in hand, what is left, why, notes, and the need in m."""

    part: WidthPart
    piece: PiecePart | None
    left: LeftPart | None
    because: list[str]
    notes: list[str]
    needed: Amount


def _bought(
    base: Ground, rows: Sequence[cloth.Row], wide: float, lay: cloth.Lay, widest_cm: float, widest_name: str = "",
    pieces: Sequence[PatternPiece] = (), features: Iterable[str] = (),
) -> _Bought:  # fmt: skip
    notes = [*base.notes, *check_widest(wide, base.shrinks, widest_cm, widest_name)]
    got = cloth.buy(rows, wide, base.shrinks, lay, chart_of(base.folders), extras_of(base.folders))
    if base.repeats and not lay.repeat_cm:
        notes.append("a pattern to match: measure its repeat along the cloth and give --repeat and --pieces")
    part = WidthPart(wide, short(got.usable_cm, 1), short(got.pattern_m, 3), short(got.length_m, 3))
    here = replace(base, width_cm=wide)
    piece = None
    if base.have_m is not None:
        piece = piece_in_hand(base, wide, got.length_m)
        piece.gives = what_gives(piece, got.length_m, here, [envelope_of(p) for p in pieces], features, lay.one_way)
    had = base.have_m if base.have_m is not None else base.rounded(got.length_m).expected
    left = left_over(had, got.length_m, here) if piece is None or piece.serves != "no" else None
    return _Bought(part, piece, left, list(got.because), notes, got.length_m)


def envelope_of(piece: PatternPiece) -> Envelope:
    """A pattern piece of a make as it lies on the cloth."""
    return envelope(piece.name, piece.length_cm, piece.width_cm, piece.cut, piece.on_fold, piece.bias)


def rows_for(make: Make, view: str, size: str) -> dict[str, list[NeededRow]]:
    """The table's lines by part, for one view and size (else the make's own); raises where several could be meant."""
    if not make.cloth_needed:
        raise Unclear(f"the make '{make.make}'", "a make with cloth_needed, the table on the pattern's envelope")
    rows = make.cloth_needed
    for given, name in ((view or make.view, "view"), (size or make.size, "size")):
        known = list(dict.fromkeys(getattr(r, name) for r in rows if getattr(r, name)))
        if given:
            wanted = {k.lower(): k for k in known}
            if given.lower() not in wanted:
                raise Unclear(
                    f"{name} '{given[:30]}'",
                    f"one of {', '.join(known) or 'none named in the make'}",
                    known[0] if known else "",
                )
            rows = [r for r in rows if getattr(r, name) in ("", wanted[given.lower()])]
        elif len(known) > 1:
            raise Unclear(f"no {name}", f"--{name} with one of {', '.join(known)}", known[0])
    found: dict[str, list[NeededRow]] = {}
    for row in rows:
        found.setdefault(row.part, []).append(row)
    return found


def make(
    base: Ground,
    made: Make,
    knowledge: Knowledge,
    *,
    words: str,
    view: str = "",
    size: str = "",
    one_way: bool = False,
    large_pieces: bool = False,
    repeat_cm: float = 0.0,
    pieces: int = 1,
    part_widths: dict[str, float] | None = None,
) -> NeedReport:
    """Cloth for every part of a make: the main cloth as given, the others by the make's own layers."""
    parts: dict[str, MakePart] = {}
    main: _Bought | None = None
    features = [ask.feature for ask in with_parts(asks_of(made, knowledge), knowledge)]
    notes: list[str] = []
    main_name = "main"
    for name, rows in rows_for(made, view, size).items():
        lines = [cloth.Row(r.length_m, r.width_cm, r.nap) for r in rows]
        first = main is None and (name == "main" or "main" not in {r.part for r in made.cloth_needed})
        here, called, local = base, words, list[str]()
        if not first:
            called = made.layers.get(name, "")
            try:
                here = ground(words=called, knowledge=knowledge, units=base.units)
                local += [f"{name}: {note}" for note in here.notes]
            except Unclear as error:
                here = Ground(base.folders, base.units)
                local.append(f"{name}: its cloth was not understood, so no shrinkage is reckoned ({error.given})")
        asked = (part_widths or {}).get(name)
        wide = asked or here.width_cm or max(r.width_cm for r in rows)
        widest = widest_of(made.pieces) if first else (0.0, "")
        lay = _lay(here, one_way and first, large_pieces and first, repeat_cm if first else 0.0, pieces if first else 1)
        got = _bought(here, lines, wide, lay, *widest, made.pieces if first else (), features if first else ())
        if first:
            main, main_name = got, name
            notes = got.notes
        else:
            notes += [*local, *(f"{name}: {n}" for n in got.notes if f"{name}: {n}" not in local)]
        parts[name] = MakePart(
            called,
            here.rounded(got.needed),
            got.part.needed_m,
            wide,
            got.part.usable_cm,
            span(here.shrinks.along),
            span(here.shrinks.across),
            got.because,
        )
    assert main is not None
    answer = NeedReport(
        "make",
        parts[main_name].buy_m,
        list(parts[main_name].because),
        notes,
        base.cautions("make"),
        sources_of("common practice", "iso-5077"),
        width=main.part,
        piece=main.piece,
        left=main.left,
        make=parts,
        cloth=base.cloth,
    )
    _small_parts(answer, base, made, knowledge)
    return answer


def _small_parts(answer: NeedReport, base: Ground, made: Make, knowledge: Knowledge) -> None:
    """Adds the buttons and loops of a make's features, from the figures they are given or usually have."""
    feeds = base.laying().features
    for ask in asks_of(made, knowledge):
        feed = feeds.get(ask.feature)
        if feed is None:
            continue
        usual = {k: f.typical for k, f in knowledge.features[ask.feature].figures.items()}
        figures = {**{k: v for k, v in usual.items() if v is not None}, **ask.figures}
        size, count = figures.get(feed.diameter_mm), figures.get(feed.count)
        if feed.question == "buttons" and size:
            found = buttons(base, diameter_mm=size, count=int(count) if count else None)
            answer.buttons = found.buttons
        elif feed.question == "loops" and size:
            found = loops(
                base,
                button_mm=answer.buttons.diameter_mm if answer.buttons else 11,
                count=int(count) if count else None,
                tube_mm=size,
            )
            answer.loops = found.loops
        else:
            continue
        answer.because += [f"{ask.given}: {line}" for line in found.because]
        answer.cautions += [c for c in found.cautions if c not in answer.cautions]
