"""Circle and bias geometry on 1,000 random cases each, against exact constructions made independently."""

from __future__ import annotations

import math
import random

import pytest

from advisor.need import bias, fullness

CASES = 1000


def shoelace(points):
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1], strict=True))) / 2


def clipped(points, keep):
    """A convex polygon cut by a straight line: `keep` is the signed distance of what stays."""
    kept = []
    for a, b in zip(points, points[1:] + points[:1], strict=True):
        da, db = keep(a), keep(b)
        if da >= 0:
            kept.append(a)
        if (da >= 0) != (db >= 0):
            share = da / (da - db)
            kept.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
    return kept


def test_continuous_bias_differs_from_cut_triangles():
    """Half of the square, each straight edge trimmed by its seam, measured as a polygon, twice, over the strip."""
    draw = random.Random(1)
    for _ in range(CASES):
        side, seam = draw.uniform(20, 150), draw.uniform(0, 1.5)
        strip = draw.uniform(0.8, (side - 2 * seam) / 3)
        triangle = clipped([(0, 0), (side, 0), (0, side)], lambda p, s=seam: p[0] - s)
        triangle = clipped(triangle, lambda p, s=seam: p[1] - s)
        length = 2 * shoelace(triangle) / strip
        assert bias.continuous_length(side, strip, seam) == pytest.approx(length, rel=1e-9)
        assert bias.square_for(length, strip, seam) == pytest.approx(side, rel=1e-9)


def test_strip_spacing_differs_from_the_distance_of_parallel_lines():
    draw = random.Random(2)
    for _ in range(CASES):
        strip = draw.uniform(0.3, 40)
        start = bias.along_selvedge(strip)
        assert abs(start) / math.hypot(1, 1) == pytest.approx(strip, rel=1e-12)  # x - y = 0 and x - y = start
        width = draw.uniform(30, 200)
        assert bias.strip_across(width) == pytest.approx(math.dist((0, 0), (width, width)), rel=1e-12)


def test_too_few_or_too_many_selvedge_strips_are_cut():
    draw = random.Random(3)
    for _ in range(CASES):
        length, width, seam = draw.uniform(10, 5000), draw.uniform(20, 200), draw.uniform(0, 1.5)
        count = bias.strips_of(length, width, seam)

        def joined(strips, width=width, seam=seam):
            return strips * math.sqrt(2) * width - (strips - 1) * 2 * math.sqrt(2) * seam

        assert joined(count) >= length - 1e-6
        assert count == 1 or joined(count - 1) < length


def test_joined_cloth_and_joined_strip_are_not_inverse():
    draw = random.Random(4)
    for _ in range(CASES):
        length, strip, width, shortest = (
            draw.uniform(100, 5000),
            draw.uniform(1, 15),
            draw.uniform(30, 200),
            draw.uniform(0, 30),
        )
        cut = bias.joined_cloth(length, strip, width, shortest)
        assert bias.joined_strip(cut, width, strip, shortest) == pytest.approx(length, rel=1e-9)


def test_circle_radii_differ_from_the_circumference():
    draw = random.Random(5)
    for _ in range(CASES):
        waist, length, turns, seams = (
            draw.uniform(40, 160),
            draw.uniform(5, 130),
            draw.uniform(0.2, 2),
            draw.uniform(0, 12),
        )
        ring = fullness.circle_skirt(waist, length, turns, seams)
        assert ring.inner_edge_cm == pytest.approx(waist + seams, rel=1e-12)
        assert ring.outer_edge_cm - ring.inner_edge_cm == pytest.approx(2 * math.pi * turns * length, rel=1e-9)
        ratio = draw.uniform(1.05, 8)
        flounce = fullness.flounce_by_fullness(waist, length, ratio)
        assert flounce.inner_edge_cm == pytest.approx(waist, rel=1e-9)
        assert flounce.outer_edge_cm == pytest.approx(waist * ratio, rel=1e-9)
        assert flounce.inner_cm == pytest.approx(waist * length / (waist * ratio - waist), rel=1e-9)  # Baldt's form
        by_rings = fullness.flounce_by_rings(waist, length, flounce.turns)
        assert (by_rings.inner_cm, by_rings.outer_cm) == pytest.approx((flounce.inner_cm, flounce.outer_cm), rel=1e-9)


def outline(inner, outer, turns, steps=720):
    """Points of a section with its centre on the y axis."""
    half = math.pi * turns
    angles = [-half + 2 * half * i / steps for i in range(steps + 1)]
    return [(r * math.sin(a), r * math.cos(a)) for r in (inner, outer) for a in angles]


def test_a_section_does_not_fit_its_box_or_the_box_is_too_large():
    draw = random.Random(6)
    for _ in range(CASES):
        inner = draw.uniform(2, 60)
        outer, turns = inner + draw.uniform(3, 120), draw.uniform(0.03, 1)
        across, along = fullness.section_box(inner, outer, turns)[0]
        points = outline(inner, outer, turns)
        wide = max(p[0] for p in points) - min(p[0] for p in points)
        long = max(p[1] for p in points) - min(p[1] for p in points)
        assert across == pytest.approx(wide, rel=1e-4)
        assert along == pytest.approx(long, rel=1e-4)


def test_a_ring_layout_needs_less_cloth_than_it_covers_or_more_than_its_boxes():
    draw = random.Random(7)
    for _ in range(CASES):
        inner = draw.uniform(2, 50)
        outer, turns, width = inner + draw.uniform(3, 100), draw.uniform(0.1, 4), draw.uniform(70, 160)
        lain = fullness.lay_ring(inner, outer, turns, width)
        area = math.pi * turns * (outer**2 - inner**2)
        assert 0 <= lain.waste < 1
        assert lain.length_cm * width * (1 - lain.waste) == pytest.approx(area, rel=1e-9)
        assert lain.per_row * lain.box_across_cm <= width + 1e-6
        assert math.ceil(lain.sections / lain.per_row) * lain.box_along_cm == pytest.approx(lain.length_cm)
        assert lain.sections * lain.section_turns == pytest.approx(turns)
