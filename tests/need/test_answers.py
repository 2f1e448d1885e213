"""The questions answered: sources, layers, pieces, features of a make."""

from __future__ import annotations

import msgspec
import pytest

from advisor.errors import Unclear
from advisor.knowledge import shipped_folder
from advisor.makes import parse_make
from advisor.need import answers, tables
from advisor.need.ground import ground
from advisor.ranges import Range

MAKE = """
make: trial
features: [{features}]
layers: {{lining: viscose lining}}
cloth_needed:
  - {{view: A, size: "12", width_cm: 140, length_m: 2}}
  - {{view: A, size: "14", width_cm: 140, length_m: 2.2}}
  - {{view: A, width_cm: 140, length_m: 1.2, part: lining}}
pieces: [{{name: back, length_cm: 80, width_cm: 40, on_fold: true}}]
"""


def make_of(features=""):
    return parse_make(MAKE.format(features=features))


def sources_in(value):
    if isinstance(value, msgspec.Struct):
        for name in value.__struct_fields__:
            inner = getattr(value, name)
            if name.endswith("source") and isinstance(inner, str):
                yield inner
            elif name.endswith("sources") and isinstance(inner, (list, dict)):
                yield from inner.values() if isinstance(inner, dict) else inner
            else:
                yield from sources_in(inner)
    elif isinstance(value, dict):
        for inner in value.values():
            yield from sources_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from sources_in(inner)


@pytest.mark.parametrize("kind", tables.FILES)
def test_a_table_names_a_source_that_nobody_knows(kind, knowledge):
    found = list(sources_in(tables.read_table(kind, [shipped_folder()])))
    assert found
    for source in found:
        known = source in ("common practice", "from memory") or source.split(",")[0].split(" (")[0] in knowledge.sources
        assert known, source


def test_the_marks_and_features_of_the_laying_table_do_not_exist(knowledge):
    laying = tables.read_table(tables.Laying, [shipped_folder()])
    for marks in (laying.one_way, laying.repeat, laying.prewashed):
        assert set(marks.sure) | set(marks.possible) <= set(knowledge.traits)
    for name, feed in laying.features.items():
        figures = knowledge.features[name].figures
        assert {feed.diameter_mm, feed.count} - {""} <= set(figures), name


def test_a_user_folder_does_not_win(tmp_path):
    lists = tmp_path / "lists"
    lists.mkdir()
    text = (shipped_folder() / "lists" / "notions.yaml").read_text(encoding="utf-8").replace("ratio: 2.5", "ratio: 3")
    (lists / "notions.yaml").write_text(text, encoding="utf-8")
    got = answers.thread(ground(folders=[shipped_folder(), tmp_path]), seams_m=[10])
    assert got.thread.seams[0].thread_m == 30
    (lists / "notions.yaml").write_text("stitches: 5", encoding="utf-8")
    with pytest.raises(Unclear, match=r"notions\.yaml"):
        answers.thread(ground(folders=[shipped_folder(), tmp_path]), seams_m=[10])


def test_a_make_with_sizes_is_answered_without_one(knowledge):
    base = ground(words="cotton poplin, 120 gsm, 140 cm wide", knowledge=knowledge)
    with pytest.raises(Unclear, match="14"):
        answers.make(base, make_of(), knowledge, words="cotton poplin")
    with pytest.raises(Unclear, match="one of 12, 14"):
        answers.make(base, make_of(), knowledge, words="cotton poplin", size="99")


def test_a_make_forgets_shrinkage_its_lining_or_its_own_list(knowledge):
    words = "cotton poplin, 120 gsm, 140 cm wide, shrinkage 5 %, shrinkage across 0 %"
    got = answers.make(ground(words=words, knowledge=knowledge), make_of(), knowledge, words=words, size="12")
    assert set(got.make) == {"main", "lining"}
    assert got.make["main"].needed_m.expected == pytest.approx(2 / 0.95, abs=0.02)
    assert got.buy_m == got.make["main"].buy_m
    assert got.make["lining"].buy_m.expected > 1.2
    assert got.because is not got.make["main"].because


def test_a_cloth_narrower_than_the_piece_on_the_fold_passes(knowledge):
    base = ground(words="cotton poplin, 120 gsm, 75 cm wide", knowledge=knowledge)
    with pytest.raises(Unclear, match="back"):
        answers.make(base, make_of(), knowledge, words="cotton poplin", size="12")


def test_covered_buttons_of_a_make_are_not_worked_out(knowledge):
    words = "cotton poplin, 120 gsm, 140 cm wide"
    made = make_of("{covered buttons: {diameter_mm: 22, count: 6}}, rouleau loops")
    got = answers.make(ground(words=words, knowledge=knowledge), made, knowledge, words=words, size="12")
    assert (got.buttons.diameter_mm, got.buttons.count, got.buttons.cut) == (22, 6, 7)
    assert got.loops.strip_mm.expected > 0


def test_napped_cloth_is_laid_both_ways(knowledge):
    plain = ground(
        words="cotton poplin, 140 cm wide",
        knowledge=knowledge,
        shrink_along_pct=Range(0, 0),
        shrink_across_pct=Range(0, 0),
    )
    napped = ground(
        words="cotton velvet, 140 cm wide",
        knowledge=knowledge,
        shrink_along_pct=Range(0, 0),
        shrink_across_pct=Range(0, 0),
    )
    assert napped.one_way
    assert not plain.one_way
    asked = {"length_m": 2.0, "from_cm": 140.0}
    more = (
        answers.width(napped, **asked).width.needed_m.expected - answers.width(plain, **asked).width.needed_m.expected
    )
    assert more == pytest.approx(0.2286, abs=1e-3)


def test_a_piece_in_the_description_is_passed_over(knowledge):
    base = ground(words="viscose challis, 95 gsm, 145 cm wide, 1.8 m", knowledge=knowledge)
    got = answers.width(base, length_m=1.9, from_cm=140)
    assert got.piece.have_m == 1.8
    assert got.piece.serves == "no"
    assert got.piece.after_washing_m.high < 1.8


@pytest.mark.parametrize(("weight", "times"), [("35 gsm", 3), ("340 gsm", 1.5)])
def test_gathers_do_not_follow_the_cloth(weight, times, knowledge):
    got = answers.gathers(ground(words=f"wool crepe, {weight}", knowledge=knowledge), finished_cm=100)
    assert got.gathers.fullness.expected == times


def test_thick_cloth_takes_no_larger_circle():
    thin, thick = (answers.buttons(ground(thickness_mm=t), diameter_mm=15).buttons for t in (0.1, 1))
    assert thick.circle_mm.expected > thin.circle_mm.expected + 2
    assert thick.covered_mm.expected == 17


@pytest.mark.parametrize("kind", ["knife", "box", "inverted", "double-box"])
def test_pleats_side_by_side_leave_their_ratio(kind):
    rule = tables.read_table(tables.Fullness, [shipped_folder()]).pleats[kind]
    assert answers.pleats(ground(), finished_cm=60, kind=kind, pleat_cm=3).pleats.fullness == rule.all_round


def test_a_frill_or_skirt_on_shrinking_cloth_asks_no_more():
    for ask in (
        lambda base: answers.circle(base, waist_cm=72, length_cm=60),
        lambda base: answers.flounce(base, seam_cm=150, depth_cm=12, ratio=2),
        lambda base: answers.gathers(base, finished_cm=300, depth_cm=20),
        lambda base: answers.pleats(base, finished_cm=80, pleat_cm=3, drop_cm=70),
        lambda base: answers.bias(base, strip_mm=30, length_m=40),
    ):
        dry, wet = (
            ask(ground(width_cm=150, shrink_along_pct=Range(s, s), shrink_across_pct=Range(s, s))).buy_m
            for s in (0, 10)
        )
        assert wet.expected > dry.expected
