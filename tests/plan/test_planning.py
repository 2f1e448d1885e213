"""Plans for real makes and cloths: each test is something a maker would call a blunder."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from advisor.errors import Unclear
from advisor.plan.tables import plan_table, weights_from
from advisor.stash.pieces import Piece, Reserved
from advisor.wardrobe.garments import Garment

pytest.importorskip("highspy")


def of(answer, start):
    return next(m for m in answer.makes if m.make.startswith(start))


def test_two_makes_do_not_share_a_long_piece(plan, makes, pieces):
    answer = plan([makes("blouse"), makes("skirt")], [pieces["long lawn"]])
    assert [m.parts[0].piece for m in answer.makes] == ["long lawn", "long lawn"]
    used = sum(m.parts[0].reckoned_m for m in answer.makes)
    assert answer.makes[0].parts[0].left_m == pytest.approx(5.2 - used, abs=0.02)


def test_a_piece_is_cut_for_more_than_it_holds(plan, makes, pieces):
    short = replace(pieces["long lawn"], lengths_m=(3.0,))
    answer = plan([makes("blouse"), makes("skirt")], [short])
    assert sum(m.allotted for m in answer.makes) == 1
    assert "worth more points" in next(m for m in answer.makes if not m.allotted).why


def test_two_short_lengths_are_taken_for_one_long_one(plan, makes, pieces):
    split = replace(pieces["long lawn"], lengths_m=(1.5, 1.5))
    answer = plan([makes("skirt")], [split])
    assert not answer.makes[0].allotted
    assert "together" in answer.makes[0].rejected[0].why


def test_what_is_reserved_for_another_make_is_cut(plan, makes, pieces):
    kept = replace(pieces["long lawn"], reserved=(Reserved("Somebody's coat", 4.0),))
    answer = plan([makes("blouse")], [kept])
    assert not answer.makes[0].allotted
    assert "reserved" in answer.makes[0].rejected[0].why
    own = replace(pieces["long lawn"], reserved=(Reserved("Blouse (invented)", 4.0),))
    assert plan([makes("blouse")], [own]).makes[0].parts[0].piece == "long lawn"


def test_a_contrast_is_cut_from_the_main_cloth(plan, makes, pieces):
    answer = plan([makes("shirt")], [pieces["poplin"], pieces["long lawn"]])
    main, contrast = answer.makes[0].parts
    assert {main.piece, contrast.piece} == {"poplin", "long lawn"}


def test_a_make_waits_for_want_of_a_contrast_that_could_be_bought(plan, makes, pieces):
    answer = plan([makes("shirt")], [pieces["poplin"]])
    assert answer.makes[0].parts[0].piece == "poplin"
    assert answer.makes[0].parts[1].piece == ""
    assert answer.makes[0].to_buy == ["contrast: 0.4 m at 150 cm wide, before shrinkage"]


def test_a_cloth_that_is_wrong_for_the_make_is_allotted(plan, makes, pieces):
    answer = plan([makes("blouse")], [pieces["melton"]])
    assert not answer.makes[0].allotted
    assert answer.makes[0].rejected[0].why.startswith("avoid")
    assert answer.makes[0].to_buy


def test_the_length_of_a_cloth_that_shrinks_is_taken_as_that_of_a_washed_one(plan, makes, pieces):
    raw = replace(pieces["long lawn"], name="raw", prewashed=None)
    washed = plan([makes("blouse")], [pieces["long lawn"]]).makes[0].parts[0]
    unwashed = plan([makes("blouse")], [raw]).makes[0].parts[0]
    assert unwashed.reckoned_m > washed.reckoned_m + 0.05
    assert (washed.wash_days, unwashed.wash_days > 0) == (0, True)


def test_a_tight_length_is_not_said(plan, makes, pieces):
    need = plan([makes("blouse")], [pieces["challis"]]).makes[0].parts[0].needs_m
    tight = replace(pieces["challis"], lengths_m=(round((need.expected + need.high) / 2, 4),))
    part = plan([makes("blouse")], [tight]).makes[0].parts[0]
    assert part.tight
    assert any("before you cut" in note for note in part.notes)


def test_a_bias_or_circular_hem_does_not_hang_and_a_straight_one_does(plan, makes, pieces):
    answer = plan([makes("skirt"), makes("blouse")], list(pieces.values()))
    assert "hang" in [s.step for s in of(answer, "Circle").steps]
    assert "hang" not in [s.step for s in of(answer, "Blouse").steps]


def test_a_late_make_is_not_said_or_what_would_help_is_not_true(plan, makes, pieces):
    late = makes("blouse", "wanted_by: 2026-12-06\ncan_drop: {narrow hem: 4}\n")
    answer = plan([late], [pieces["challis"]])
    make = answer.makes[0]
    assert make.late is not None
    assert make.late.days == (date.fromisoformat(make.ready) - date(2026, 12, 6)).days > 0
    assert date.fromisoformat(make.late.should_begin) < date(2026, 12, 1)
    assert make.late.could_drop == ["narrow hem"]
    assert plan([late], [pieces["challis"]], hours_a_week=make.late.hours_a_week).makes[0].late is None
    again = makes("blouse", f"wanted_by: {make.late.could_be_by}\n")
    assert plan([again], [pieces["challis"]]).makes[0].late is None


def test_a_day_that_has_passed_is_planned_as_if_it_were_to_come(plan, makes, pieces):
    past = makes("blouse", "wanted_by: 2026-11-20\n")
    make = plan([past], [pieces["challis"]]).makes[0]
    assert make.late is not None
    assert make.late.hours_a_week is None
    assert make.steps[0].first >= "2026-12-01"


def test_hours_that_there_are_not_are_spent(plan, makes, pieces):
    answer = plan([makes("blouse"), makes("skirt"), makes("shirt")], list(pieces.values()), hours=17)
    sewn = [m for m in answer.makes if m.allotted]
    assert sum(m.hours for m in sewn) <= 17
    assert len(sewn) == 2
    assert "17 hours" in next(m for m in answer.makes if not m.allotted).why


def test_a_gap_in_the_wardrobe_does_not_tip_the_scales(plan, makes, pieces):
    only = [replace(pieces["long lawn"], lengths_m=(3.0,))]
    full = [Garment("tops", "blouse", (), "", 40)]
    wish = [Garment("a circle skirt", "circle-skirt", ("summer",))]
    answer = plan([makes("blouse"), makes("skirt")], only, garments=full, wishes=wish)
    assert [m.make for m in answer.makes if m.allotted] == ["Circle skirt (invented)"]
    assert answer.makes[0].fills[0].gap == "wish: a circle skirt"
    full = [Garment("skirts", "circle-skirt", (), "", 40)]
    wish = [Garment("a top", "blouse", ("summer",))]
    answer = plan([makes("blouse"), makes("skirt")], only, garments=full, wishes=wish)
    assert [m.make for m in answer.makes if m.allotted] == ["Blouse (invented)"]


def test_a_wish_for_a_colour_is_met_by_another_colour(plan, makes, pieces):
    wish = [Garment("a green top", "blouse", (), "green", 1)]
    full = [Garment("tops", "blouse", (), "red", 40)]
    both = [replace(pieces["long lawn"], lengths_m=(2.5,)), pieces["challis"]]
    answer = plan([makes("blouse")], both, garments=full, wishes=wish)
    assert answer.makes[0].parts[0].piece == "challis"


def test_the_runner_up_is_the_same_or_better(plan, makes, pieces):
    answer = plan([makes("blouse"), makes("skirt")], list(pieces.values()))
    assert answer.runner_up is not None
    assert answer.runner_up.behind >= 0
    assert answer.runner_up.differs
    assert answer.runner_up.why


def test_points_do_not_add_up(plan, makes, pieces):
    points = plan([makes("blouse"), makes("shirt")], list(pieces.values())).points
    total = points.fit + points.stash + points.gap - points.tight - points.late - points.bought - points.uneasy
    assert points.total == pytest.approx(total, abs=0.5)


def test_a_weight_that_was_said_does_not_count(plan, makes, pieces, knowledge):
    heavy = weights_from(plan_table(knowledge), ["gap=0", "stash=0"])
    points = plan([makes("blouse")], [pieces["challis"]], weights=heavy).points
    assert (points.gap, points.stash) == (0, 0)
    assert points.total == points.fit


def test_nothing_is_in_the_stash_and_the_plan_falls_over(plan, makes):
    answer = plan([makes("blouse")], [])
    assert not answer.makes[0].allotted
    assert answer.runner_up is None
    assert any("stash is empty" in note for note in answer.notes)


def test_without_hours_days_are_made_up(plan, makes, pieces):
    answer = plan([makes("blouse", "wanted_by: 2026-12-02\n")], [pieces["challis"]], hours_a_week=None)
    assert answer.makes[0].steps == []
    assert answer.makes[0].late is None
    assert any("--hours-a-week" in note for note in answer.notes)


def test_a_piece_that_cannot_be_read_is_passed_over_in_silence(plan, makes, pieces):
    answer = plan([makes("blouse")], [Piece("odd", "xyzzy plugh", 140, (3.0,)), pieces["challis"]])
    assert answer.makes[0].parts[0].piece == "challis"
    assert answer.not_read == [] or "odd" in answer.not_read[0]


def test_what_was_seen_of_the_piece_before_is_not_said_again(plan, makes, pieces, knowledge):
    from advisor.log.done import Done, Observation, Snapshot

    seen = Done("Sunday blouse", "2026-05-03", "viscose challis", piece="challis", number=1, known=Snapshot({}), observations=(Observation("the hem waved", "badly"),))
    part = plan([makes("blouse")], [pieces["challis"]], log=[seen]).makes[0].parts[0]
    assert [(one.line, one.because) for one in part.lessons] == [("the hem waved", "this piece")]
    assert plan([makes("blouse")], [pieces["poplin"]]).makes[0].parts[0].lessons == []


def test_one_make_twice_is_planned_as_two(plan, makes, pieces):
    with pytest.raises(Unclear, match="twice"):
        plan([makes("blouse"), makes("blouse")], list(pieces.values()))


def test_features_of_a_part_that_the_table_lacks_are_taken(plan, makes, pieces):
    with pytest.raises(Unclear, match="part_features"):
        plan([makes("blouse", "part_features: {yoke: [shirt collar]}\n")], list(pieces.values()))


def test_the_order_of_makes_changes_what_they_are_worth(plan, makes, pieces):
    one = plan([makes("blouse"), makes("skirt"), makes("shirt")], list(pieces.values()))
    two = plan([makes("shirt"), makes("skirt"), makes("blouse")], list(reversed(pieces.values())))
    assert one.points.total == pytest.approx(two.points.total, abs=0.05)
