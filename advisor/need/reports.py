"""The report of `advisor need`: the JSON contract, always metric, null where a part does not apply.

A field's unit is the end of its name (m, cm, mm, in, pct, degrees); an `Amount` gives low, expected and high.
"""

from __future__ import annotations

import msgspec

from advisor import report
from advisor.need.cloth import Amount


class WidthPart(msgspec.Struct):
    """The pattern's length at the cloth's width. `usable_cm` is the width after washing, `needed_m` unrounded."""

    width_cm: float
    usable_cm: Amount
    pattern_m: Amount
    needed_m: Amount


class SmallMakeLine(msgspec.Struct):
    """Something that a remnant could still make: how many times, and whether it fits whatever the cloth shrinks."""

    make: str
    name: str
    times: int
    certainty: report.Certainty
    caution: str = ""


class LeftPart(msgspec.Struct):
    """What is left over once the make is cut, washed: the end of the cloth and, where a layout is known, the gaps."""

    length_m: Amount
    width_cm: float
    gaps_cm: list[tuple[float, float]] = []
    could_make: list[SmallMakeLine] = []


class GiveLine(msgspec.Struct):
    """One thing that may give where a piece falls short: what it saves in m of cloth, and whether that is enough."""

    give: str
    do: str
    saves_m: Amount
    enough: str
    source: str


class PiecePart(msgspec.Struct):
    """A piece in hand against what is needed. `gives` says what could give where it falls short."""

    have_m: float
    width_cm: float
    after_washing_m: Amount
    after_washing_cm: Amount
    serves: str
    short_m: Amount
    gives: list[GiveLine] = []


class LaidPiece(msgspec.Struct):
    """One envelope on the cloth: from the cut end along the cloth, from one selvedge across it."""

    name: str
    along_from_cm: float
    across_from_cm: float
    along_cm: float
    across_cm: float
    bias: bool = False


class LayoutPart(msgspec.Struct):
    """A rough layout in a single layer, an estimate: envelopes on the grain, at the middle of what the cloth may shrink."""

    width_cm: float
    length_m: Amount
    used_pct: float
    one_way: bool
    pieces: list[LaidPiece]
    gaps_cm: list[tuple[float, float]] = []


class BiasPart(msgspec.Struct):
    """Bias strips. The square is for one continuous strip; the joined strips run from selvedge to selvedge."""

    strip_mm: float
    along_selvedge_mm: float
    style: str | None = None
    strip_length_m: float | None = None
    strips: int | None = None
    each_strip_cm: float | None = None
    full_strip_cloth_m: float | None = None
    square_cm: Amount | None = None
    square_to_cut_cm: float | None = None
    square_to_cut_in: float | None = None
    from_square_m: float | None = None
    from_square_without_seams_m: float | None = None
    lost_in_seams_m: float | None = None
    from_piece_m: Amount | None = None
    from_piece_by_area_m: float | None = None


class RingPart(msgspec.Struct):
    """A ring or part of one: radii on the seam lines and as cut, edges, and how its sections lie on the cloth."""

    turns: float
    inner_radius_cm: float
    outer_radius_cm: float
    cut_inner_radius_cm: float
    cut_outer_radius_cm: float
    inner_edge_cm: float
    outer_edge_cm: float
    fullness: float
    sections: int | None = None
    section_degrees: float | None = None
    per_row: int | None = None
    cloth_cm: float | None = None
    waste_pct: float | None = None


class GathersPart(msgspec.Struct):
    """A gathered frill from straight strips."""

    fullness: Amount
    strip_m: Amount
    strips: Amount | None = None
    strip_depth_cm: float | None = None
    cloth_cm: Amount | None = None


class PleatsPart(msgspec.Struct):
    """Pleats before pleating."""

    kind: str
    count: int
    depth_cm: float
    cut_cm: float
    with_allowance_cm: float
    fullness: float
    widths: int | None = None


class ButtonsPart(msgspec.Struct):
    """Covered buttons and their buttonholes."""

    diameter_mm: float
    ligne: float
    covered_mm: Amount
    circle_mm: Amount
    buttonhole_mm: Amount
    edge_mm: float
    count: int | None = None
    cut: int | None = None
    spacing_mm: float | None = None


class LoopsPart(msgspec.Struct):
    """Rouleau loops: the tube, its strip, and each loop."""

    tube_mm: float
    strip_mm: Amount
    exposed_mm: float
    cut_mm: float
    count: int | None = None
    spacing_mm: float | None = None
    tube_m: float | None = None


class ThreadLine(msgspec.Struct):
    """One seam."""

    stitch: str
    iso: str
    seam_m: float
    thread_m: float
    source: str


class ThreadPart(msgspec.Struct):
    """Thread for all seams, with what is wasted."""

    thread_m: Amount
    reels: Amount
    reel_m: float
    seams: list[ThreadLine]


class ElasticPart(msgspec.Struct):
    """Elastic as cut, and the casing for it."""

    cut_cm: Amount
    of_body_pct: Amount
    overlap_mm: float
    casing_mm: float | None = None


class ZipPart(msgspec.Struct):
    """The zip to buy."""

    opening_cm: float
    length_cm: float


class MakePart(msgspec.Struct):
    """One cloth of the make: main, lining …"""

    cloth: str
    buy_m: Amount
    needed_m: Amount
    width_cm: float
    usable_cm: Amount
    shrink_along_pct: report.Span
    shrink_across_pct: report.Span
    because: list[str]


class NeedReport(msgspec.Struct):
    """The answer to: how much? `buy_m` is cloth from the bolt, rounded up to what is sold."""

    question: str
    buy_m: Amount | None
    because: list[str]
    notes: list[str] = []
    cautions: list[str] = []
    sources: list[str] = []
    width: WidthPart | None = None
    piece: PiecePart | None = None
    bias: BiasPart | None = None
    flounce: RingPart | None = None
    circle: RingPart | None = None
    gathers: GathersPart | None = None
    pleats: PleatsPart | None = None
    buttons: ButtonsPart | None = None
    loops: LoopsPart | None = None
    thread: ThreadPart | None = None
    elastic: ElasticPart | None = None
    zip: ZipPart | None = None
    make: dict[str, MakePart] | None = None
    layout: LayoutPart | None = None
    left: LeftPart | None = None
    cloth: report.ClothReport | None = None
