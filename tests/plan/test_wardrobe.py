"""The wardrobe: garments read from words, gaps counted once, and kept in the stash's file."""

from __future__ import annotations

from itertools import permutations

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_telling import answered, refused

from advisor.errors import Unclear
from advisor.schemas import schema_of
from advisor.wardrobe.fills import fills_of
from advisor.wardrobe.gaps import Slot, gaps_of, share_filled, slots_of
from advisor.wardrobe.garments import Garment, adds_of, family_of, read_garment, wardrobe_table


@pytest.fixture(scope="module")
def table(knowledge):
    return wardrobe_table(knowledge)


@pytest.mark.parametrize(
    ("words", "type_", "seasons", "colour"),
    [
        ("navy wool coat", "coat", (), "navy"),
        ("summer blouse in white cotton", "blouse", ("summer",), "white"),
        ("pencil skirt, winter and autumn, burgundy", "pencil-skirt", ("autumn", "winter"), "red"),
        ("Black Trench Coat", "trench-coat", (), "black"),
        ("sky blue T-shirt", "t-shirt", (), "blue"),
    ],
)
def test_a_garment_in_words_is_misread(knowledge, table, words, type_, seasons, colour):
    got = read_garment(words, knowledge, table)
    assert (got.type, got.seasons, got.colour) == (type_, seasons, colour)


def test_what_is_said_on_purpose_does_not_win(knowledge, table):
    got = read_garment("grandmother's winter one", knowledge, table, type_words="cape", seasons=["all"], colour="off-white")
    assert (got.type, got.seasons, got.colour) == ("cape", (), "white")


@pytest.mark.parametrize("words", ["", "   ", "flounce", "qwertz", "x" * 400])
def test_what_is_no_garment_to_wear_is_taken_for_one(knowledge, table, words):
    with pytest.raises(Unclear):
        read_garment(words, knowledge, table)


def test_a_colour_inside_another_word_is_seen(table):
    assert family_of("tangled redwork on a stonewashed ground", table) == ""
    assert family_of("blue and white stripe", table) == "blue"


def test_a_make_adds_what_its_features_are_not(knowledge, table, makes):
    (garment,) = adds_of(makes("skirt"), knowledge, table)
    assert (garment.type, garment.seasons) == ("circle-skirt", ("summer",))
    (garment,) = adds_of(makes("blouse", "fills: [evening gown]\n"), knowledge, table)
    assert (garment.type, garment.seasons) == ("evening-gown", ("summer",))


def test_a_gap_is_filled_in_the_wrong_season_or_colour(table):
    slot = Slot("s", "s", frozenset(["coat"]), ("winter",), "red", 1, 1.0)
    assert share_filled(Garment("a", "coat", ("winter",), "red"), slot, 0.5) == 1
    assert share_filled(Garment("a", "coat", (), "red"), slot, 0.5) == 1
    assert share_filled(Garment("a", "coat", ("summer",), "red"), slot, 0.5) == 0
    assert share_filled(Garment("a", "coat", ("winter",), "blue"), slot, 0.5) == 0
    assert share_filled(Garment("a", "coat", ("winter",), ""), slot, 0.5) == 0.5


TYPES, SEASONS = ("coat", "skirt", "blouse"), ("summer", "winter")
garments = st.lists(
    st.builds(Garment, st.just("g"), st.sampled_from(TYPES), st.sampled_from([(), ("summer",), ("winter",)])), max_size=5
)
slots = st.lists(
    st.builds(
        Slot, st.just("s"), st.just("s"), st.frozensets(st.sampled_from(TYPES), min_size=1),
        st.sampled_from([(), ("summer",), ("winter",)]), st.just(""), st.integers(1, 2), st.sampled_from([0.5, 1.0, 1.5]),
    ),
    max_size=2,
)  # fmt: skip


@settings(deadline=None, max_examples=60)
@given(garments, slots)
def test_garments_could_be_counted_so_that_less_worth_is_missing(owned, wanted):
    gaps = gaps_of(owned, wanted)
    places = [s for s in wanted for _ in range(s.pieces)]
    best = 0.0
    for order in permutations([*range(len(owned)), *([None] * len(places))], len(places)):
        pairs = zip(places, order, strict=True)
        best = max(best, sum(s.worth for s, n in pairs if n is not None and share_filled(owned[n], s, 0) >= 1))
    filled = sum(g.slot.worth * len(g.held) for g in gaps)
    assert filled >= best - 1e-9
    assert sum(len(g.held) for g in gaps) <= len(owned)
    assert all(g.missing == g.slot.pieces - len(g.held) >= 0 for g in gaps)


def test_the_list_names_garments_that_there_are_not(knowledge, table):
    assert all(g in knowledge.features for line in table.holds.values() for g in line.garments)
    assert all(line.pieces > 0 and line.worth > 0 for line in table.holds.values())


def test_a_list_of_ones_own_is_not_checked(knowledge, tmp_path):
    from advisor.knowledge import load

    (tmp_path / "lists").mkdir()
    text = (knowledge.folders[0] / "lists" / "wardrobe.yaml").read_text(encoding="utf-8")
    (tmp_path / "lists" / "wardrobe.yaml").write_text(text.replace("garments: [apron]", "garments: [aprons-and-such]"), encoding="utf-8")
    with pytest.raises(Unclear, match="aprons-and-such"):
        wardrobe_table(load((tmp_path,)))


def test_a_make_fills_a_gap_that_is_full(knowledge, table, makes):
    slots = slots_of(table, [])
    empty = fills_of(makes("skirt"), gaps_of([], slots), knowledge, table)
    assert empty[0].best is not None
    full = gaps_of([Garment("skirts", "circle-skirt", (), "", 40)], slots)
    assert fills_of(makes("skirt"), full, knowledge, table)[0].best is None


# ---- as it is typed ----


def test_a_garment_goes_in_counts_and_comes_out(typed, tmp_path):
    stash = tmp_path / "s.db"
    at = ("--stash", stash, "--json")
    put = answered(typed("wardrobe", "add", "navy wool coat", "--season", "winter", *at))
    jsonschema.validate(put, schema_of("wardrobe"))
    assert put["changed"] == {"name": "navy wool coat", "type": "coat", "seasons": ["winter"], "colour": "navy", "pieces": 1}
    more = answered(typed("wardrobe", "add", "Navy  wool coat", "--season", "winter", "--count", "2", *at))
    assert more["changed"]["pieces"] == 3
    seen = answered(typed("wardrobe", "list", *at))
    assert (seen["by_type"], seen["by_season"], seen["by_colour"]) == ({"coat": 3}, {"winter": 3}, {"navy": 3})
    coat = next(g for g in seen["gaps"] if g["id"] == "winter-coat")
    assert coat["missing"] == 0 and coat["source"] == "common practice"
    gone = answered(typed("wardrobe", "remove", "NAVY WOOL COAT", *at))
    assert gone["owned"] == []


def test_a_wish_is_no_gap(typed, tmp_path, files):
    at = ("--stash", tmp_path / "s.db")
    assert typed("wardrobe", "wish", "red circle skirt", *at)[0] == 0
    gaps = answered(typed("wardrobe", "gaps", "--make", files["skirt"], *at, "--json"))
    wish = gaps["gaps"][0]
    assert (wish["own"], wish["missing"], wish["source"]) == (True, 1, "your own wish")
    fills = gaps["makes"][0]  # of a colour not yet known, so the wish counts by half and the usual gap comes first
    assert (fills["make"], fills["fills"], fills["share"]) == ("Circle skirt (invented)", "light-skirts", 1.0)
    assert typed("wardrobe", "remove", "red circle skirt", "--wish", *at)[0] == 0
    assert answered(typed("wardrobe", "list", *at, "--json"))["wishes"] == []


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["add", "qwertz"], ["garment 'qwertz'"]),
        (["add", "coat", "--colour", "gren"], ["colour 'gren'", "nearest: green"]),
        (["add", "coat", "--season", "monsoon"], ["season 'monsoon'", "spring, summer"]),
        (["add", "coat", "--count", "0"], ["0 of them", "1 to 99"]),
        (["add", "coat", "--count", "100"], ["100 of them"]),
        (["add", "it", "--type", "flounce"], ["garment 'flounce'"]),
        (["remove", "red coat"], ["'red coat'"]),
        (["gaps", "--make", "none.yaml"], ["none.yaml"]),
        (["shred"], ["shred"]),
    ],
)
def test_bad_input_changes_the_wardrobe_or_is_not_explained(typed, tmp_path, words, says):
    stash = tmp_path / "s.db"
    assert typed("wardrobe", "add", "coat", "--stash", stash)[0] == 0
    before = answered(typed("wardrobe", "list", "--stash", stash, "--json"))
    refused(typed("wardrobe", *words, *([] if words == ["shred"] else ["--stash", stash])), *says)
    assert answered(typed("wardrobe", "list", "--stash", stash, "--json")) == before


def test_a_stash_of_the_first_form_does_not_take_garments(typed, tmp_path):
    """A file written before there was a wardrobe is brought up to date, after a backup, with its pieces."""
    import sqlite3

    from advisor.stash import store
    from advisor.stash.pieces import Piece

    path = tmp_path / "old.db"
    with store.changing(path, make=True) as db:
        store.add(db, Piece("lawn", "cotton lawn", 140, (2.0,)))
    old = sqlite3.connect(path)
    for name in ("garment", "wish", "observation", "done"):
        old.execute(f"DROP TABLE {name}")
    old.execute("PRAGMA user_version = 1")
    old.commit()
    old.close()
    assert typed("wardrobe", "add", "coat", "--stash", path)[0] == 0
    with store.reading(path) as db:
        assert store.names(db) == ["lawn"]
    assert list(tmp_path.rglob("*before-migration*"))
