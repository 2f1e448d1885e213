"""The days of a plan: nothing before today, nothing after its day, no day with more hours than it has."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from advisor.plan.days import Work, calendar, in_time, should_begin
from advisor.plan.late import days_late, gentlest, hours_for_all, shorter, way_out

hours = st.integers(0, 8).map(lambda n: n / 2)


def works(wanted: st.SearchStrategy[int | None]) -> st.SearchStrategy[list[Work]]:
    one = st.tuples(hours, hours, hours, st.integers(0, 4), st.integers(0, 3), wanted)
    return st.lists(one, max_size=4).map(lambda rows: [Work(n, *row) for n, row in enumerate(rows)])


@given(works(st.integers(0, 30)), works(st.none()), st.sampled_from([0.4, 1.0, 2.5]))
def test_a_calendar_breaks_the_order_of_steps_the_hanging_or_a_day_wanted(dated, free, per_day):
    free = [Work(len(dated) + n, w.cut_h, w.sew_h, w.finish_h, w.wash_days, w.hang_days) for n, w in enumerate(free)]
    kept = []
    for work in dated:
        if in_time([*kept, work], per_day):
            kept.append(work)
    late = [w for w in dated if w not in kept]
    dates = calendar(kept, [*late, *free], per_day)
    every = {w.job: w for w in [*dated, *free]}
    assert set(dates) == set(every)
    for job, d in dates.items():
        work = every[job]
        assert 0 <= d.start <= d.cut[0] <= d.cut[1] <= d.sew[0] <= d.sew[1] <= d.finish[0] <= d.finish[1]
        assert (d.wash[1] - d.wash[0] + 1 if d.wash else 0) == work.wash_days
        if work.hang_days:
            assert d.hang is not None
            assert d.finish[0] - d.sew[1] - 1 >= work.hang_days
            assert d.hang == (d.sew[1] + 1, d.finish[0] - 1)
        if work in kept:
            assert d.finish[1] < work.wanted
    days = {d for one in dates.values() for d in (one.cut[0], one.finish[1])}
    for first in days:
        for last in days:
            inside = sum(
                step for job, one in dates.items()
                for step, (a, b) in zip(every[job].steps, (one.cut, one.sew, one.finish), strict=True)
                if first <= a and b <= last
            )  # fmt: skip
            assert inside <= per_day * max(0, last - first + 1) + 1e-6


def test_a_garment_is_due_on_the_evening_before_the_day_it_is_wanted():
    assert in_time([Work(0, 1, 1, 1, wanted=3)], 1.0)
    assert not in_time([Work(0, 1, 1, 1, wanted=2)], 1.0)


def test_drying_and_hanging_take_days_but_no_hours():
    work = Work(0, 1, 1, 1, wash_days=2, hang_days=3, wanted=8)
    assert in_time([work], 1.0)
    assert not in_time([Work(0, 1, 1, 1, 2, 3, wanted=7)], 1.0)
    dates = calendar([work], [], 1.0)[0]
    assert (dates.wash, dates.cut, dates.sew, dates.hang, dates.finish) == ((0, 1), (2, 2), (3, 3), (4, 6), (7, 7))


def test_a_late_start_is_counted_back_into_the_past():
    assert should_begin(Work(0, 2, 2, 2, wanted=4), [], 1.0) == -2


def test_of_two_makes_the_one_is_late_that_is_late_the_longer():
    short, long = Work(0, 0, 2, 0, wanted=2), Work(1, 0, 9, 0, wanted=9)
    both = [short, long]
    assert gentlest(both, frozenset([0]), 1.0) == {1}
    assert days_late(calendar([short], [long], 1.0), both) == 2


@given(works(st.integers(0, 20)), st.sampled_from([0.5, 1.0]), st.dictionaries(st.sampled_from("abc"), hours))
def test_a_way_out_of_lateness_does_not_work_or_one_that_works_is_not_told(dated, per_day, can_drop):
    kept = []
    for work in dated:
        if in_time([*kept, work], per_day):
            kept.append(work)
            continue
        out = way_out(work, kept, can_drop, per_day)
        if out.drop:
            assert in_time([*kept, shorter(work, sum(can_drop[n] for n in out.drop))], per_day)
        elif can_drop:
            assert not in_time([*kept, shorter(work, sum(can_drop.values()))], per_day)
        for job in out.leave:
            assert in_time([*(w for w in kept if w.job != job), work], per_day)
        if out.hours_a_week is not None:
            assert in_time([*kept, work], out.hours_a_week / 7)
            assert out.hours_a_week == hours_for_all([*kept, work], per_day)
