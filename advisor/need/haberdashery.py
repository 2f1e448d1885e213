"""Thread, elastic and zips answered."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.errors import Unclear
from advisor.need import notions, tables
from advisor.need.cloth import Amount
from advisor.need.ground import Ground, short, sources_of
from advisor.need.reports import (
    ElasticPart,
    NeedReport,
    ThreadLine,
    ThreadPart,
    ZipPart,
)
from advisor.need.units import within


def thread(base: Ground, *, seams_m: Sequence[float], stitches: Sequence[str] = ()) -> NeedReport:
    """Thread for seams, each with its stitch (one stitch serves for all)."""
    table = tables.read_table(tables.Notions, base.folders)
    names = {**{s.iso: n for n, s in table.stitches.items()}, **{n: n for n in table.stitches}}
    kinds = list(stitches) or ["lockstitch"]
    if len(kinds) == 1:
        kinds *= len(seams_m)
    if not seams_m:
        raise Unclear("no seam", "--seam with its length, once for each kind of stitch", "--seam 12m")
    if len(kinds) != len(seams_m):
        raise Unclear(f"{len(kinds)} stitches for {len(seams_m)} seams", "one --stitch for all, or one for each --seam")
    lines: list[ThreadLine] = []
    for length, kind in zip(seams_m, kinds, strict=True):
        if kind.lower() not in names:
            raise Unclear(
                f"stitch '{kind[:30]}'", f"one of {', '.join(table.stitches)} or its ISO 4915 number", "lockstitch"
            )
        stitch = table.stitches[names[kind.lower()]]
        within(length, 0.01, 5000, "seam", "m")
        lines.append(
            ThreadLine(
                names[kind.lower()], stitch.iso, round(length, 3), round(length * stitch.ratio, 2), stitch.source
            )
        )
    total = sum(line.thread_m for line in lines)
    amount = Amount.of([notions.thread_metres([(total, 1)], waste / 100) for waste in table.thread_waste_pct.value])
    part = ThreadPart(
        short(amount, 1), amount.each(lambda m: notions.reels(m, table.reel_m.value)), table.reel_m.value, lines
    )
    because = [
        f"{line.stitch} ({line.iso}): {line.seam_m:g} m of seam x "
        f"{line.thread_m / line.seam_m:g} = {line.thread_m:g} m, both sides together"
        for line in lines
    ]
    because.append(
        f"and {table.thread_waste_pct.value[0]:g} to {table.thread_waste_pct.value[2]:g} % for ends, threading and unpicking"
    )
    return NeedReport(
        "thread",
        None,
        because,
        list(base.notes),
        base.cautions("thread"),
        sources_of(*(line.source for line in lines), table.thread_waste_pct.source),
        thread=part,
    )


def elastic(base: Ground, *, body_cm: float, place: str = "waist", width_mm: float | None = None) -> NeedReport:
    """Elastic to cut for a place on the body, and the casing."""
    table = tables.read_table(tables.Notions, base.folders)
    within(body_cm, 8, 250, "body", "cm")
    if place not in table.elastic:
        raise Unclear(f"place '{place[:30]}'", f"one of {', '.join(table.elastic)}", "waist")
    rule = table.elastic[place]
    lap = table.elastic_overlap_mm.value
    part = ElasticPart(
        short(Amount.of([notions.elastic_cut(body_cm, share / 100, lap / 10) for share in rule.of_body_pct]), 1),
        Amount.of(rule.of_body_pct),
        lap,
    )
    because = [
        f"{rule.of_body_pct[0]:g} to {rule.of_body_pct[2]:g} % of {body_cm:g} cm at the {place}, and {lap:g} mm to overlap; "
        f"try it on before you close it"
    ]
    if width_mm is not None:
        within(width_mm, 3, 120, "elastic width", "mm")
        part.casing_mm = round(
            notions.casing_depth(width_mm, table.elastic_casing_ease_mm.value, table.casing_turn_mm.value), 1
        )
        because.append(f"folded casing: {part.casing_mm:g} mm of cloth above the fold line")
    return NeedReport(
        "elastic",
        None,
        because,
        list(base.notes),
        base.cautions("elastic"),
        sources_of(rule.source, table.elastic_overlap_mm.source),
        elastic=part,
    )


def zip_(base: Ground, *, opening_cm: float) -> NeedReport:
    """The zip to buy for an opening."""
    table = tables.read_table(tables.Notions, base.folders)
    within(opening_cm, 3, 150, "opening", "cm")
    length = notions.zip_length(opening_cm, table.zips.lengths_cm)
    lacks = f" and {opening_cm - length:g} cm shorter than the opening" if length < opening_cm else ""
    because = [
        f"the shortest sold that fills {opening_cm:g} cm is {length:g} cm{lacks}; a longer one is stitched across and cut off"
    ]
    if lacks:
        because = [f"the longest usually sold is {length:g} cm{lacks}: buy zip by the metre"]
    return NeedReport(
        "zip",
        None,
        because,
        list(base.notes),
        base.cautions("zip"),
        sources_of(table.zips.source),
        zip=ZipPart(opening_cm, length),
    )
