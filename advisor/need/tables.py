"""The tables and rules of thumb behind the quantities, read from `knowledge/lists` with their sources."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TypeVar

import msgspec

from advisor.lists import read_list

T = TypeVar("T", bound=msgspec.Struct)
Three = tuple[float, float, float]
"""Low, usual, high."""


class Sourced(msgspec.Struct, rename={"value": "is"}):
    """One figure with its source."""

    value: float
    source: str


class SourcedThree(msgspec.Struct, rename={"value": "is"}):
    """Low, usual, high, with their source."""

    value: Three
    source: str


class SourcedList(msgspec.Struct, rename={"value": "is"}):
    """Several figures with their source."""

    value: list[float]
    source: str


class WidthChart(msgspec.Struct):
    """The width-conversion chart: columns in inches, rows in yards."""

    source: str
    columns: list[tuple[float, float]]
    rows: list[list[float]]
    slack_in: float
    additions_yd: dict[str, float]
    large_difference: Sourced
    column_sources: dict[str, str] = {}


class Marks(msgspec.Struct):
    """Traits that call for something, surely or possibly."""

    sure: list[str]
    source: str
    possible: list[str] = []


class FeatureParts(msgspec.Struct):
    """How a feature's figures feed a question."""

    question: str
    diameter_mm: str = ""
    count: str = ""


class Laying(msgspec.Struct):
    """What makes cloth go further or less far."""

    one_way: Marks
    repeat: Marks
    prewashed: Marks
    spare_high_pct: Sourced
    repeat_least: Sourced
    repeat_share_pct: Sourced
    shrink_most_pct: Sourced
    piece_gap_cm: Sourced
    cautions: dict[str, list[str]]
    features: dict[str, FeatureParts]


class Style(msgspec.Struct):
    """A binding: strip = times x finished width + plus_mm."""

    times: float
    plus_mm: float
    about: str
    source: str


class Tools(msgspec.Struct):
    """Folding tool size in mm → strip in mm."""

    source: str
    strip_mm: dict[float, float]


class YieldShare(msgspec.Struct):
    """Strip had from a piece as % of area / strip width."""

    low: float
    usual: float
    high: float
    source: str


class YieldChart(msgspec.Struct):
    """Yards of strip from 1 yd of cloth: cloth width in inches → a figure for each strip width in inches."""

    source: str
    strips_in: list[float]
    yards: dict[float, list[float]]


class Bias(msgspec.Struct):
    """Bias strips and bindings."""

    styles: dict[str, Style]
    tools: Tools
    yield_pct: YieldShare
    yield_chart: YieldChart
    join_seam_mm: Sourced
    shortest_strip_cm: Sourced
    square_extra_in: Sourced


class Ratio(msgspec.Struct):
    """Cut length over finished length."""

    ratio: Three
    about: str
    source: str
    below_gsm: float = 0


class PleatKind(msgspec.Struct):
    """Cloth a pleat takes, as a multiple of its depth, and the ratio when pleats touch all round."""

    layers_per_depth: float
    all_round: float
    about: str
    source: str


class Fullness(msgspec.Struct):
    """Gathers, pleats, flounces."""

    gathers: list[Ratio]
    weight_limits_source: str
    without_cloth: Ratio
    bias_frill: Ratio
    older_straight: Ratio
    join_seam_mm: Sourced
    pleats: dict[str, PleatKind]
    sunray: Ratio
    ring_sources: list[str]


class Cover(msgspec.Struct):
    """Circle for a covered button = times x diameter + plus_mm."""

    times: Three
    plus_mm: Three
    about: str
    source: str


class Hole(msgspec.Struct):
    """What is added for a buttonhole, mm."""

    plus_mm: Three
    about: str
    source: str


class Times(msgspec.Struct):
    """Strip over finished tube in thin and in thick cloth."""

    thin: float
    thick: float
    source: str


class Rouleau(msgspec.Struct):
    """Rouleau strips by thickness of cloth."""

    times: Times
    thin_mm: Sourced
    thick_mm: Sourced


class Loops(msgspec.Struct):
    """Loops cut from a rouleau."""

    waste_pct: Sourced
    gap_mm: Sourced
    allowance_mm: Sourced


class Closures(msgspec.Struct):
    """Buttons, buttonholes, loops."""

    covers: dict[str, Cover]
    kit_sizes_mm: SourcedList
    spare_buttons_pct: Sourced
    buttonhole: dict[str, Hole]
    button_thickness_mm: SourcedThree
    edge_extra_mm: Sourced
    rouleau: Rouleau
    loops: Loops


class Stitch(msgspec.Struct):
    """Thread for a length of seam."""

    iso: str
    ratio: float
    about: str
    source: str


class ElasticPlace(msgspec.Struct):
    """Elastic as % of the body."""

    of_body_pct: Three
    source: str


class Zips(msgspec.Struct):
    """Lengths in which zips are sold."""

    lengths_cm: list[float]
    source: str


class Notions(msgspec.Struct):
    """Thread, elastic, zips."""

    stitches: dict[str, Stitch]
    thread_waste_pct: SourcedThree
    reel_m: Sourced
    elastic: dict[str, ElasticPlace]
    elastic_overlap_mm: Sourced
    elastic_casing_ease_mm: Sourced
    casing_turn_mm: Sourced
    zips: Zips


class SmallMake(msgspec.Struct):
    """Something small: `count` rectangles as cut, cm; the cloth it is for by weight and by traits that it must lack."""

    name: str
    count: int
    along_cm: float
    across_cm: float
    source: str
    turns: bool = False
    gsm: tuple[float, float] = (0, 10000)
    lacks: list[str] = []
    caution: str = ""


class Give(msgspec.Struct):
    """What may give where cloth is short, and what that saves (`knowledge/lists/remnants.yaml` says how it is read)."""

    name: str
    do: str
    source: str
    pieces: list[str] = []
    features: list[str] = []
    frees: float = 0
    cm2: Three | None = None
    pct: Three | None = None
    shortens: bool = False
    lays_both_ways: bool = False


class Remnants(msgspec.Struct):
    """What a remnant can make, and what can give."""

    least_cm: Sourced
    makes: dict[str, SmallMake]
    gives: dict[str, Give]


FILES: dict[type[msgspec.Struct], str] = {
    WidthChart: "width-chart", Laying: "laying", Bias: "bias", Fullness: "fullness", Closures: "closures", Notions: "notions",
    Remnants: "remnants",
}  # fmt: skip
"""Which file of `lists` holds what."""


def read_table(kind: type[T], folders: Sequence[Path]) -> T:
    """One table from the last of the knowledge folders that has it; raises `Unclear` naming the file at fault."""
    return read_list(FILES[kind], kind, folders)
