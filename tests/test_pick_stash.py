"""Pick from the stash: the order, the lengths, the reasons, and that many at once say what one by one would."""

from __future__ import annotations

import datetime
import json

import pytest

from advisor import advise, parallel, picking, picking_many
from advisor.advise import Case, judge
from advisor.cli import run
from advisor.errors import Unclear
from advisor.log import keeping
from advisor.log.done import Done, Observation
from advisor.log.likeness import snapshot
from advisor.makes import asks_of, context_of, parse_make
from advisor.need import answers as need
from advisor.need.ground import ground
from advisor.stash import ranking, store
from advisor.stash.pieces import Piece, Reserved
from advisor.stash.ranking import days_on_shelf, main_rows, rank_pieces

TODAY = datetime.date(2026, 6, 30)
MAKE = """
make: blouse
features: [narrow rolled hem, flounce, French seams]
season: summer
envelope: {woven_or_knit: woven}
cloth_needed:
  - {width_cm: 140, length_m: 1.9}
  - {width_cm: 115, length_m: 2.4}
"""


@pytest.fixture(scope="module")
def make():
    return parse_make(MAKE)


def piece(name, words="cotton lawn, 75 gsm", lengths=(3.0,), width=140.0, **more):
    return Piece(name, words, width, lengths, **more)


def ranked(make, knowledge, *pieces, log=(), **more):
    part, lessons = rank_pieces(make, list(pieces), log, knowledge, today=TODAY, **more)
    return part, lessons


def order(part):
    return [row.piece for row in part.ranking]


def reasons(part):
    return {row.piece: row.why_not for row in part.rejected}


# ---- the order ----


def test_a_better_fit_does_not_come_first(make, knowledge):
    part, _ = ranked(make, knowledge, piece("denim", "denim"), piece("linen", "linen, 185 gsm"), piece("lawn"))
    assert order(part)[0] == "lawn"
    assert "denim" not in order(part)


def test_of_equal_cloth_the_handy_and_the_old_do_not_come_first(make, knowledge):
    part, _ = ranked(
        make, knowledge, piece("new", bought="2026-06-01"), piece("old", bought="2021"), piece("washed", prewashed=True),
        piece("ours", reserved=(Reserved("Blouse", 2.0),)), piece("unmeasured", lengths=()),
    )  # fmt: skip
    assert order(part) == ["ours", "old", "washed", "new", "unmeasured"]
    because = {row.piece: row.because for row in part.ranking}
    assert because == {
        "ours": ["reserved for this make"], "old": ["5 years on the shelf"], "washed": ["pre-washed"], "new": [],
        "unmeasured": ["its length is not noted"],
    }  # fmt: skip


def test_points_lift_a_piece_over_a_better_verdict(make, knowledge):
    part, _ = ranked(
        make, knowledge, piece("care", "linen, 185 gsm", reserved=(Reserved("blouse", 2.5),), bought="1990", prewashed=True), piece("lawn")
    )  # fmt: skip
    if part.ranking[1].verdict != part.ranking[0].verdict:
        assert order(part) == ["lawn", "care"]
    assert all(row.verdict in ("suits", "care") for row in part.ranking)


@pytest.mark.parametrize(
    ("bought", "added", "days"),
    [("2026-06-20", "", 10), ("2026-05", "", 46), ("2025", "", 364), ("", "2026-06-29", 1), ("", "", None), ("2027", "", 0)],
)
def test_the_days_on_the_shelf_are_counted_otherwise(bought, added, days):
    assert days_on_shelf(Piece("x", "linen", bought=bought, added=added), TODAY) == days


# ---- the length ----


def test_the_length_is_not_that_of_the_quantities_engine(make, knowledge):
    part, _ = ranked(make, knowledge, piece("lawn", width=120.0))
    base = ground(words="cotton lawn, 75 gsm", knowledge=knowledge, width_cm=120, have_m=3)
    told = need.make(base, make, knowledge, words="cotton lawn, 75 gsm").width
    got = part.ranking[0].needed_m
    assert (got.low, got.expected, got.high) == pytest.approx((told.needed_m.low, told.needed_m.expected, told.needed_m.high), abs=0.001)


def test_a_washed_piece_needs_as_much_as_an_unwashed_one(make, knowledge):
    part, _ = ranked(make, knowledge, piece("raw"), piece("washed", prewashed=True))
    takes = {row.piece: row.needed_m.high for row in part.ranking}
    assert takes["washed"] < takes["raw"]


def test_a_narrower_piece_needs_no_more(make, knowledge):
    part, _ = ranked(make, knowledge, piece("wide"), piece("narrow", width=112.0))
    takes = {row.piece: row.needed_m.expected for row in part.ranking}
    assert takes["narrow"] > takes["wide"] + 0.3


def test_a_short_piece_is_taken_or_its_shortage_is_not_said(make, knowledge):
    part, _ = ranked(make, knowledge, piece("short", lengths=(1.7,)), piece("scrap", lengths=(0.3,)))
    assert order(part) == []
    short, scrap = part.rejected
    assert short.short_m == pytest.approx(short.needed_m.expected - 1.7, abs=0.002)
    assert short.why_not.startswith("0.35 m short; ") and " do if you " in short.why_not
    assert short.gives and short.verdict == "suits"
    assert (scrap.piece, scrap.verdict, scrap.gives) == ("scrap", None, [])
    assert " m short" in scrap.why_not


def test_a_shortage_is_rounded_down():
    assert [ranking._metres(v) for v in (0.01, 0.05, 0.051, 0.4, 0.41, 1.0)] == ["0.05 m", "0.05 m", "0.1 m", "0.4 m", "0.45 m", "1 m"]


def test_what_is_reserved_for_another_make_is_counted(make, knowledge):
    kept = (Reserved("skirt", 2.0),)
    part, _ = ranked(make, knowledge, piece("kept", reserved=kept), piece("long", lengths=(5.0,), reserved=kept))
    assert order(part) == ["long"]
    assert "as 2 m for skirt is reserved" in reasons(part)["kept"]
    assert part.rejected[0].verdict == "suits"


def test_two_lengths_are_taken_for_one(make, knowledge):
    part, _ = ranked(make, knowledge, piece("two", lengths=(1.3, 1.3)))
    assert "2 lengths together" in reasons(part)["two"]


def test_a_piece_too_narrow_for_a_pattern_piece_is_taken(knowledge):
    wide = parse_make(MAKE + "pieces: [{name: back, length_cm: 60, width_cm: 60, on_fold: true}]\n")
    part, _ = ranked(wide, knowledge, piece("narrow", width=90.0, lengths=(6.0,)), piece("broad"))
    assert order(part) == ["broad"]
    assert "back" in reasons(part)["narrow"]


def test_a_piece_whose_width_nobody_knows_is_turned_down_or_counted_as_enough(make, knowledge):
    part, _ = ranked(make, knowledge, piece("noted"), piece("open", "thin cotton cloth", width=None))
    row = next(row for row in part.ranking if row.piece == "open")
    assert (row.enough, row.because, row.needed_m) == ("not known", ["its width is not noted"], None)
    assert "--width" in row.notes[0]


def test_a_make_without_a_table_turns_pieces_down_for_their_length(knowledge):
    bare = parse_make("make: blouse\nfeatures: [flounce]\n")
    part, _ = ranked(bare, knowledge, piece("scrap", lengths=(0.3,)))
    assert order(part) == ["scrap"]
    assert part.ranking[0].needed_m is None and part.ranking[0].because == []
    assert "cloth_needed" in part.notes[0]


def test_an_open_size_is_not_reckoned_as_the_one_that_takes_most():
    sized = parse_make(
        "make: x\nfeatures: [flounce]\ncloth_needed:\n"
        "  - {size: s, width_cm: 140, length_m: 1.5}\n  - {size: xl, width_cm: 140, length_m: 2.5}\n"
        "  - {size: xl, width_cm: 140, length_m: 1, part: lining}\n"
    )
    rows, note = main_rows(sized)
    assert [row.length_m for row in rows] == [2.5] and "size xl" in note
    assert [row.length_m for row in main_rows(sized, size="S")[0]] == [1.5]
    with pytest.raises(Unclear, match="size 'm'"):
        main_rows(sized, size="m")


# ---- the reasons ----


def test_a_knit_is_taken_for_a_pattern_for_wovens_or_a_misfit_without_a_reason(make, knowledge):
    part, _ = ranked(make, knowledge, piece("jersey", "cotton jersey"), piece("melton", "wool melton"))
    assert order(part) == []
    assert "this is a knit" in reasons(part)["jersey"]
    assert reasons(part)["melton"].startswith("does not suit: ")


def test_every_turned_down_piece_has_no_reason_of_one_line(make, knowledge):
    part, _ = ranked(
        make, knowledge, piece("a", "wool melton"), piece("b", lengths=(1.0,)), piece("c", width=None, words="zephyr stripe cotton"),
        piece("d", "cotton jersey"), piece("e", lengths=(2.2,), reserved=(Reserved("x", 1.0),)),
    )  # fmt: skip
    for row in part.rejected:
        assert row.why_not and "\n" not in row.why_not and len(row.why_not) < 200


def test_used_up_and_unreadable_pieces_are_ranked(make, knowledge):
    from advisor.stash.pieces import Cut

    part, _ = ranked(make, knowledge, piece("gone", lengths=(), cuts=(Cut("2025", 2.0),)), piece("what", "qqqq zzzz"))
    assert (order(part), part.held) == ([], 1)
    assert part.not_read and part.not_read[0].startswith("what: ")


# ---- the log ----


def test_the_log_is_not_told_with_its_piece_or_does_not_narrow_it(make, knowledge):
    cloth = "viscose challis, 110 gsm"
    done = Done(
        "tea dress", "2025-03-01", cloth, snapshot(advise.profile_of(cloth, knowledge)), piece="blue",
        observations=(Observation("frayed 5 of 5"), Observation("flounce hung beautifully")),
    )  # fmt: skip
    part, lessons = ranked(make, knowledge, piece("blue", cloth), piece("twin", cloth), piece("denim", "denim"), log=[done])
    rows = {row.piece: row for row in (*part.ranking, *part.rejected)}
    assert {one.because for one in rows["blue"].lessons} == {"this piece"}
    assert {one.because for one in rows["twin"].lessons} == {"a like cloth"}
    assert rows["denim"].lessons == []
    assert rows["blue"].score.expected < rows["twin"].score.expected
    assert lessons == []  # it stands on the rows already


# ---- many at once ----


def crowd(knowledge, count):
    names = [c.names[0] for c in knowledge.cloths.values() if c.kind == "cloth" and c.names]
    return [
        piece(f"p{i}", f"{('red', 'blue')[i % 2]} {names[i * 7 % len(names)]}, {90 + i % 5 * 30} gsm", (1.0 + i % 4,), 110.0 + i % 3 * 20,
              prewashed=(None, True, False)[i % 3])
        for i in range(count)
    ]  # fmt: skip


@pytest.mark.parametrize("columns", [True, False])
def test_many_at_once_say_something_else_than_one_by_one(columns, make, knowledge, monkeypatch):
    monkeypatch.setattr(picking_many, "EARNS", 1 if columns else 10_000)
    pieces = crowd(knowledge, 80)
    part, _ = ranked(make, knowledge, *pieces)
    asks, context = tuple(asks_of(make, knowledge)), context_of(make, knowledge)
    laying = ranking.laying_tables(knowledge)
    rows = {row.piece: row for row in (*part.ranking, *part.rejected)}
    assert len(rows) == 80
    for one in pieces:
        profile = ranking.profile_of_piece(one, (), knowledge, laying)
        told = judge(Case(profile, asks, tuple(dict.fromkeys([*profile.described.context, *context]))), knowledge)
        row = rows[one.name]
        if row.verdict is not None:
            assert (row.score.low, row.score.expected, row.score.high) == pytest.approx(
                (told.score.low, told.score.expected, told.score.high), abs=0.11
            )
            assert row.limited_by == told.limited_by.id
            assert row.verdict == told.verdict or row.why_not
            assert row.watch == picking.row_of("", told, (), knowledge).watch or row.why_not


def test_cloths_to_buy_are_ranked_otherwise_many_at_once(make, knowledge, monkeypatch):
    names = [*[c.names[0] for c in knowledge.cloths.values() if c.kind == "cloth" and c.names][::9], "qqqq zzzz"]
    answers = []
    for earns in (1, 10_000):
        monkeypatch.setattr(picking_many, "EARNS", earns)
        answers.append(advise.pick(make, names, knowledge=knowledge))
    assert [(r.cloth, r.verdict, r.watch, r.limited_by) for r in answers[0].ranking] == [
        (r.cloth, r.verdict, r.watch, r.limited_by) for r in answers[1].ranking
    ]
    assert answers[0].not_read == answers[1].not_read and len(answers[0].not_read) == 1
    one, other = (make_supposed(make, names[:5], knowledge, earns, monkeypatch) for earns in (1, 10_000))
    assert one == other


def make_supposed(make, names, knowledge, earns, monkeypatch):
    monkeypatch.setattr(picking, "EARNS_ALONE", earns)
    return advise.pick(make, names, what_if=["prewashed"], knowledge=knowledge)


def test_processes_say_something_else_than_one(make, knowledge, monkeypatch):
    pieces = crowd(knowledge, 90)
    alone, _ = ranked(make, knowledge, *pieces)
    monkeypatch.setattr(ranking, "EARNS", 1)
    monkeypatch.setattr(parallel, "cores", lambda: 2)
    told = []
    spread, _ = ranked(make, knowledge, *pieces, progress=lambda done, total: told.append((done, total)))
    assert spread == alone
    assert told[-1] == (90, 90)
    assert told == sorted(told)


# ---- as it is typed ----


@pytest.fixture
def say(tmp_path, capsys, knowledge, monkeypatch):
    """Runs `advisor …` with a stash of its own as the usual one: (exit code, what it printed, its fault)."""
    monkeypatch.setenv("ADVISOR_STASH", str(tmp_path / "stash.db"))
    (tmp_path / "make.yaml").write_text(MAKE)

    def saying(*words):
        code = run([str(tmp_path / "make.yaml") if w == "MAKE" else w for w in words])
        told = capsys.readouterr()
        return code, told.out, told.err

    return saying


def test_the_stash_does_not_come_first_or_is_asked_for_in_vain(say):
    say("stash", "add", "cotton lawn, 75 gsm", "--name", "Green", "--length", "3 m", "--width", "140 cm")
    told = json.loads(say("pick", "MAKE", "--cloth", "viscose challis", "--json")[1])
    assert [row["piece"] for row in told["stash"]["ranking"]] == ["Green"]
    assert [row["cloth"] for row in told["ranking"]] == ["viscose challis"]
    only = json.loads(say("pick", "MAKE", "--only-stash", "--json")[1])
    assert only["ranking"] == [] and only["stash"]["held"] == 1
    none = json.loads(say("pick", "MAKE", "--no-stash", "--cloth", "linen", "--json")[1])
    assert none["stash"] is None
    text = say("pick", "MAKE", "--cloth", "viscose challis")[1]
    assert text.index("From your stash") < text.index("Green") < text.index("What could be bought")


def test_without_a_stash_pick_says_something_new(say):
    told = json.loads(say("pick", "MAKE", "--cloth", "viscose challis", "--json")[1])
    assert told["stash"] is None and told["lessons"] == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--only-stash",), "without a stash"),
        (("--only-stash", "--no-stash"), "--no-stash with --only-stash"),
        (("--stash", "nowhere.db"), "nowhere.db"),
    ],
)
def test_bad_input_is_not_refused_in_one_line(say, words, said):
    code, out, fault = say("pick", "MAKE", *words)
    assert (code, out, fault.count("\n")) == (2, "", 1)
    assert said in fault


def test_a_damaged_stash_spoils_a_ranking_of_what_could_be_bought(say, tmp_path):
    (tmp_path / "stash.db").write_bytes(b"nothing of the kind" * 100)
    code, out, fault = say("pick", "MAKE", "--cloth", "viscose challis", "--json")
    assert (code, fault) == (0, "")
    told = json.loads(out)
    assert told["stash"] is None and len(told["ranking"]) == 1
    assert "damaged" in told["not_read"][0]
    assert say("pick", "MAKE", "--only-stash")[0] == 2


def test_a_bar_is_shown_for_what_is_quick_or_on_no_terminal(monkeypatch, capsys):
    from advisor.cli import bar

    with bar.bar("x") as tell:
        assert tell is None
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    with bar.bar("quick") as tell:
        tell(1, 2)
    assert capsys.readouterr().err == ""
    monkeypatch.setattr(bar, "AFTER_S", 0)
    with bar.bar("slow") as tell:
        tell(1, 2)
        tell(2, 2)
    assert "slow" in capsys.readouterr().err


def test_a_lesson_of_a_like_cloth_is_not_told_of_what_could_be_bought(say):
    say("stash", "add", "wool melton", "--name", "coat", "--length", "3 m", "--width", "150 cm")
    say("log", "add", "frock", "--cloth", "viscose challis, 110 gsm", "--saw", "frayed 4 of 5")
    told = json.loads(say("pick", "MAKE", "--cloth", "viscose challis", "--cloth", "denim", "--json")[1])
    assert {row["cloth"]: [one["line"] for one in row["lessons"]] for row in told["ranking"]} == {
        "viscose challis": ["frayed 4 of 5"], "denim": [],
    }  # fmt: skip
    assert "of cloth like these" in say("pick", "MAKE", "--cloth", "viscose challis")[1]


def test_the_log_is_kept_out_of_pick(say, tmp_path, knowledge):
    say("stash", "add", "cotton lawn, 75 gsm", "--name", "Green", "--length", "3 m", "--width", "140 cm")
    say("log", "add", "frock", "--cloth", "wool melton", "--saw", "flounce drooped")
    told = json.loads(say("pick", "MAKE", "--only-stash", "--json")[1])
    assert [(one["line"], one["because"]) for one in told["lessons"]] == [("flounce drooped", "this feature")]
    with store.reading(tmp_path / "stash.db") as db:
        assert len(keeping.everything(db)) == 1
