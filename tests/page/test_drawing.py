"""Drawings are true to their figures: sizes in millimetres, places on the scale."""

from __future__ import annotations

import itertools
import math
import re

import pytest

from advisor.page import drawing, truesize
from advisor.ranges import Range
from advisor.report import Scored, Span


def test_the_check_line_is_not_50_mm():
    text = truesize.check_line()
    width = float(re.search(r'width="([\d.]+)mm"', text).group(1))
    box = float(re.search(r'viewBox="0 0 ([\d.]+)', text).group(1))
    assert width == box, "one unit of the drawing is one millimetre"
    assert "M2 7H52" in text


@pytest.mark.parametrize("circle", [20.0, 27.3, 60.0])
def test_a_button_circle_has_another_size(circle):
    text = truesize.button_circles(circle, 15.0, 9)[0]
    assert f'r="{circle / 2:.2f}" class="cutline"' in text and 'r="7.50" class="stitchline"' in text
    width, height = (float(v) for v in re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', text).groups())
    assert width <= truesize.SHEET_W and height <= truesize.SHEET_H
    for x, y in re.findall(r'cx="([\d.]+)" cy="([\d.]+)" r="[\d.]+" class="cutline"', text):
        assert circle / 2 <= float(x) <= width - circle / 2 and circle / 2 <= float(y) <= height - circle / 2, "cut off"


def test_loops_lie_at_another_distance():
    rows = truesize.loop_strip(25.0, 20, 54.0, 10.0, 8.0)
    assert len(rows) > 1
    seen = []
    for row in rows:
        assert float(re.search(r'height="([\d.]+)mm"', row).group(1)) <= truesize.SHEET_H
        middles = [float(y) + 4.0 for y in re.findall(r'M10.00 ([\d.]+)H20', row)[::2]]
        assert all(math.isclose(b - a, 25.0, abs_tol=0.01) for a, b in itertools.pairwise(middles))
        seen += [int(n) for n in re.findall(r'class="label">(\d+)<', row)]
    assert set(seen) == set(range(1, 21))


@pytest.mark.parametrize("side", [120.0, 460.0])
def test_a_bias_square_is_not_whole(side):
    tiles = truesize.bias_square(side, 40.0)
    boxes = [tuple(float(v) for v in re.search(r'viewBox="([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+)"><rect', t).groups()) for t in tiles]
    for at in range(1, int(side), 7):
        assert any(x <= at <= x + w for x, _, w, _ in boxes) and any(y <= at <= y + h for _, y, _, h in boxes)
    assert max(x + w for x, _, w, _ in boxes) == side == max(y + h for _, y, _, h in boxes)
    runs = sorted({float(x) for x in re.findall(r"M([\d.]+) 0L0", tiles[0])})
    assert all(math.isclose((b - a) / math.sqrt(2), 40.0, abs_tol=0.02) for a, b in itertools.pairwise(runs)), "strips are 40 mm across"


def test_a_score_stands_elsewhere_on_its_rule():
    text = drawing.score_bar(Scored(40, 50, 60), 45, 70)
    assert 'x="80.4" y="10" width="39.2"' in text and "M100.0 11" in text


def test_what_a_cloth_has_stands_elsewhere_on_its_bands():
    bands = {"low": Range(0, 2), "high": Range(2, 5)}
    text = drawing.banded(bands, 1, has=Span(1, 2), curve=[(0, 1), (5, 0)], says="x & y")
    left, width = (float(v) for v in re.search(r'<rect x="([\d.]+)" y="14.0" width="([\d.]+)"', text).groups())
    start, end = (float(v) for v in re.search(r'M([\d.]+) [\d.]+v4H([\d.]+)v-4', text).groups())
    assert math.isclose(left, (start + end) / 2, abs_tol=0.3), "1 is in the middle of 0 to 2"
    assert math.isclose(left + width, end, abs_tol=0.3), "2 is where the bands meet"
    assert 'aria-label="x &amp; y"' in text
