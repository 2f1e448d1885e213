"""Thread: metric ticket numbers (thread-ticket articles), thread for a seam (stitch-classes article, 301 and 304)."""

from __future__ import annotations

import pytest

from advisor.need import answers
from advisor.need.ground import ground
from advisor.need.units import metric_ticket_from_tex, tex_from_cotton_count, tex_from_metric_count


@pytest.mark.parametrize(("tex", "ticket"), [(40, 75), (30, 100), (25, 120)])
def test_a_metric_ticket_is_not_3000_over_tex(tex, ticket):
    assert metric_ticket_from_tex(tex) == ticket


@pytest.mark.parametrize(
    ("count", "ply", "ticket"), [(80, 2, 120), (20, 3, 20), (30, 3, 30), (40, 2, 60), (60, 3, 60), (80, 4, 60)]
)
def test_a_plied_metric_count_has_another_ticket(count, ply, ticket):
    """Nm 80/2 = ticket 120 … printed resultant counts are rounded (20/3 = 6.6)."""
    assert metric_ticket_from_tex(tex_from_metric_count(count / ply)) == pytest.approx(ticket, abs=0.5)


@pytest.mark.parametrize(("count", "ply", "ticket"), [(20, 2, 30), (40, 2, 60), (60, 3, 60)])
def test_a_cotton_ticket_is_not_three_times_the_count(count, ply, ticket):
    """Cotton ticket = 590.54 / tex x 3, not the metric scale."""
    assert 590.54 / tex_from_cotton_count(count / ply) * 3 == pytest.approx(ticket, abs=0.01)


@pytest.mark.parametrize(("stitch", "ratio"), [("301", 2.5), ("304", 5.5)])
def test_a_metre_of_seam_takes_other_thread(stitch, ratio):
    assert answers.thread(ground(), seams_m=[1], stitches=[stitch]).thread.seams[0].thread_m == ratio
