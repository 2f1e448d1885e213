"""Rough layouts: advisor.need.layout, laying and picture."""

from __future__ import annotations

import math
import random
import xml.dom.minidom

import pytest

pytest.importorskip("rectpack")
shapely = pytest.importorskip("shapely")

from advisor.cli import run  # noqa: E402
from advisor.errors import Unclear  # noqa: E402
from advisor.need import answers  # noqa: E402
from advisor.need.cloth import Shrinks  # noqa: E402
from advisor.need.ground import Ground  # noqa: E402
from advisor.need.layout import Envelope, envelope, free_rectangles, lay_out, least_length  # noqa: E402
from advisor.need.picture import blocks, svg  # noqa: E402
from advisor.ranges import Range  # noqa: E402

BLOUSE = "knowledge/makes/summer-wrap-blouse.yaml"


def boxes_of(laid):
    return [
        shapely.box(p.across_from_cm, p.along_from_cm, p.across_from_cm + p.across_cm, p.along_from_cm + p.along_cm)
        for p in laid.placed
    ]


def some_pieces(seed, width):
    rng = random.Random(seed)
    return [
        Envelope(f"piece {i}", rng.uniform(5, 90), rng.uniform(5, min(80, width)), rng.choice([1, 1, 2, 2, 4]))
        for i in range(rng.randint(1, 9))
    ]


@pytest.mark.parametrize("seed", range(60))
def test_pieces_overlap_hang_over_the_edge_or_are_turned(seed):
    width = random.Random(seed + 1000).uniform(85, 160)
    pieces = some_pieces(seed, width)
    gap = random.Random(seed).choice([0.0, 0.5, 1.0])
    laid = lay_out(pieces, width, gap)
    boxes = boxes_of(laid)
    assert sorted((p.name, p.along_cm, p.across_cm) for p in laid.placed) == sorted(
        (p.name, p.along_cm, p.across_cm) for p in pieces for _ in range(p.cut)
    )
    cloth = shapely.box(0, 0, width + 1e-6, laid.length_cm + 1e-6)
    assert all(cloth.covers(box) for box in boxes)
    for place, one in enumerate(boxes):
        for other in boxes[place + 1 :]:
            assert one.distance(other) >= gap - 1e-6 or gap == 0
            assert one.intersection(other).area < 1e-6


@pytest.mark.parametrize("seed", range(60))
def test_a_layout_beats_its_own_least_length_or_wastes_a_third(seed):
    pieces = some_pieces(seed, 140) * 2
    laid = lay_out(pieces, 140)
    assert laid.length_cm >= least_length(pieces, 140) - 1e-6
    assert laid.length_cm <= 1.5 * least_length(pieces, 140) + 1e-6
    assert laid.free == pytest.approx(1 - sum(b.area for b in boxes_of(laid)) / (140 * laid.length_cm))


@pytest.mark.parametrize("rows", range(1, 6))
def test_pieces_that_tile_the_cloth_are_not_laid_as_a_tile(rows):
    assert lay_out([Envelope("tile", 40, 35, 4 * rows)], 140).length_cm == pytest.approx(40 * rows, abs=0.2)


@pytest.mark.parametrize("seed", range(40))
def test_a_gap_meets_a_piece_another_gap_or_leaves_the_cloth(seed):
    laid = lay_out(some_pieces(seed, 140), 140, 1)
    taken = boxes_of(laid)
    for free in free_rectangles(laid, 8):
        box = shapely.box(free.across_from_cm, free.along_from_cm, free.across_from_cm + free.across_cm, free.along_from_cm + free.along_cm)
        assert min(free.along_cm, free.across_cm) >= 8
        assert shapely.box(0, 0, 140, laid.length_cm).buffer(1e-6).covers(box)
        assert all(box.intersection(other).area < 1e-6 for other in taken)
        taken.append(box)


def test_the_one_gap_of_a_layout_is_missed():
    laid = lay_out([Envelope("left", 50, 60), Envelope("long", 100, 40)], 100)
    assert [(f.along_cm, f.across_cm) for f in free_rectangles(laid, 5)] == [(50, 60)]


@pytest.mark.parametrize("seed", range(200))
def test_the_box_of_a_piece_on_the_bias_differs_from_the_turned_rectangle(seed):
    rng = random.Random(seed)
    length, width = rng.uniform(5, 120), rng.uniform(3, 60)
    turned = shapely.affinity.rotate(shapely.box(0, 0, width, length), 45)
    low_x, low_y, high_x, high_y = turned.bounds
    box = envelope("bias", length, width, bias=True)
    assert (box.across_cm, box.along_cm) == pytest.approx((high_x - low_x, high_y - low_y))
    assert envelope("fold", length, width, on_fold=True).across_cm == pytest.approx(2 * width)


@pytest.mark.parametrize(("said", "units", "wanted"), [
    ("front 72 x 30 cm, cut 2", "metric", ("front", 72, 30, 2, False, False)),
    ("under collar 10x48, 2", "metric", ("under collar", 10, 48, 2, False, False)),
    ("back 28 x 11 in, fold", "metric", ("back", 71.12, 27.94, 1, True, False)),
    ("strip 8 1/2 x 3 1/4, bias, cut 4", "imperial", ("strip", 21.59, 8.255, 4, False, True)),
    ("sleeve 1.2 m x 44 cm", "metric", ("sleeve", 120, 44, 1, False, False)),
])  # fmt: skip
def test_a_piece_in_words_is_read_as_another(said, units, wanted):
    piece = answers.read_piece(said, units)
    name, length, width, cut, fold, bias = wanted
    assert (piece.name, piece.cut, piece.on_fold, piece.bias) == (name, cut, fold, bias)
    assert (piece.length_cm, piece.width_cm) == pytest.approx((length, width))


@pytest.mark.parametrize("said", ["front", "72 x 30", "front 0 x 30", "front 72 x 30, cut 99", "front 72 x 30, upside down", "front 9000 x 3"])
def test_a_piece_that_cannot_be_is_taken(said):
    with pytest.raises(Unclear):
        answers.read_piece(said)


def test_a_piece_wider_than_the_washed_cloth_is_laid():
    base = Ground(width_cm=100, shrinks=Shrinks(across=Range(0.05, 0.05)))
    with pytest.raises(Unclear, match="at least as wide as 'front'"):
        answers.layout(base, [answers.read_piece("front 70 x 98")])


def test_shrinkage_buys_no_more_and_a_piece_in_hand_is_passed_over():
    pieces = [answers.read_piece(p) for p in ("front 70 x 60, cut 2", "back 70 x 62")]
    plain = answers.layout(Ground(width_cm=140, have_m=2.0), pieces)
    washed = answers.layout(Ground(width_cm=140, have_m=1.5, shrinks=Shrinks(Range(0.05, 0.1), Range(0, 0.02))), pieces)
    assert plain.buy_m.expected < washed.buy_m.expected
    assert plain.piece.serves == "yes" and plain.left.length_m.expected > 0.4
    assert washed.piece.serves != "yes" and washed.piece.gives
    assert any("estimate" in note for note in plain.notes)


def test_the_drawing_leaves_out_a_piece_is_no_xml_or_wider_than_the_terminal():
    part = answers.layout(
        Ground(width_cm=140), [answers.read_piece("front & <back> 70 x 60, cut 2"), answers.read_piece("tie 30 x 5, bias")]
    ).layout
    drawn = xml.dom.minidom.parseString(svg(part, "A <rough> layout", ["said & done"]))
    assert len(drawn.getElementsByTagName("g")) == 3
    for columns in (40, 80, 120):
        lines = blocks(part, columns)
        assert max(map(len, lines)) <= columns
        assert len(lines) <= 24
        assert "".join(lines).count("A") == 2 and "B/" in "".join(lines)


def test_a_picture_goes_where_it_should_not(tmp_path, capsys, monkeypatch, root):
    monkeypatch.chdir(root)
    asked = ["need", "layout", BLOUSE, "--cloth", "viscose challis, 140 cm wide", "--picture"]
    notes = tmp_path / "notes.txt"
    notes.write_text("mine")
    assert run([*asked, str(notes)]) == 2 and notes.read_text() == "mine"
    assert run([*asked, str(tmp_path / "nowhere" / "a.svg")]) == 2
    assert capsys.readouterr().out == ""
    assert run([*asked, str(tmp_path / "a.svg")]) == 0
    assert [p.name for p in tmp_path.iterdir() if p.suffix == ".svg"] == ["a.svg"]
    assert math.isfinite(float(xml.dom.minidom.parse(str(tmp_path / "a.svg")).documentElement.getAttribute("width")))


def test_without_the_packing_library_there_is_no_clear_line(monkeypatch, capsys, root):
    import builtins

    true = builtins.__import__

    def without(name, *rest, **more):
        if name == "rectpack":
            raise ModuleNotFoundError(name)
        return true(name, *rest, **more)

    monkeypatch.chdir(root)
    monkeypatch.setattr(builtins, "__import__", without)
    assert run(["need", "layout", BLOUSE, "--cloth", "viscose challis, 140 cm wide"]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1 and "fabric-advisor[plan]" in err
