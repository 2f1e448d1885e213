"""Lists in and out: nothing guessed silently, nothing twice, nothing lost on the way out and back."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spreadsheets import ods, xlsx

from advisor.errors import Unclear
from advisor.stash import exporting, importing, pieces, store
from advisor.stash.pieces import Cut, Piece, Reserved, Understood

ROWS = [
    ["Fabric", "Width (in)", "Length yds", "Price £", "Where", "Washed?", "Remarks"],
    ["cotton lawn", 54.0, "1½", 8.5, "box 1", "yes", "from the market"],
    ["wool coating", 60.0, 2.0, "", "", "no", ""],
]


def read(path, understand, mapping=(), units="metric", sheet=""):
    table = importing.read_table(path, sheet)
    columns = importing.propose(table, mapping, units)
    rows, refused = importing.rows_of(table, columns, understand, units)
    return columns, rows, refused


def take(stash, path, understand, **options):
    columns, rows, refused = read(path, understand)
    named = any(c.field == "name" for c in columns)
    return importing.take_in(stash, rows, refused, given_names=named, **options)


def held(stash):
    with store.reading(stash) as db:
        return store.pieces(db)


def text_file(tmp_path, text, name="list.csv", encoding="utf-8"):
    path = tmp_path / name
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize("kind", ["csv", "semicolons", "tabs", "xlsx", "ods"])
def test_the_same_list_in_any_form_gives_the_same_pieces(tmp_path, plainly, kind):
    if kind in ("xlsx", "ods"):
        pytest.importorskip("python_calamine")
        path = {"xlsx": xlsx, "ods": ods}[kind](tmp_path / f"list.{kind}", ROWS)
    else:
        out = io.StringIO()
        csv.writer(out, delimiter={"csv": ",", "semicolons": ";", "tabs": "\t"}[kind]).writerows(ROWS)
        path = text_file(tmp_path, out.getvalue())
    columns, rows, refused = read(path, plainly)
    assert [(c.field, c.unit) for c in columns] == [
        ("description", ""), ("width", "in"), ("length", "yd"), ("price", "£"), ("kept", ""), ("prewashed", ""), ("notes", ""),
    ]  # fmt: skip
    assert refused == []
    first, second = (row.piece for row in rows)
    assert first == Piece(
        "cotton lawn", "cotton lawn", 137.16, (1.3716,), kept="box 1", price="8.5", currency="GBP", prewashed=True,
        notes=("Remarks: from the market",),
    )  # fmt: skip
    assert (second.lengths_m, second.price, second.prewashed) == ((1.8288,), "", False)


def test_titles_above_the_headings_are_passed_over(tmp_path, plainly):
    path = text_file(tmp_path, "My cloth,,\n,,\nFabric,Width,Length\nlinen,140,2\n")
    _, rows, _ = read(path, plainly)
    assert [(r.number, r.piece.description, r.piece.width_cm, r.piece.lengths_m) for r in rows] == [
        (4, "linen", 140.0, (2.0,))
    ]


def test_the_size_of_bare_figures_gives_their_unit_away_and_is_shown(tmp_path, plainly):
    columns, rows, _ = read(text_file(tmp_path, "Fabric,Width,Length\nlinen,54,150\nwool,60,200\n"), plainly)
    assert [(c.field, c.unit) for c in columns] == [("description", ""), ("width", "in"), ("length", "cm")]
    assert "size of the figures" in columns[1].because
    assert rows[0].piece.lengths_m == (1.5,)
    columns, rows, _ = read(text_file(tmp_path, "Fabric,Width,Length\nlinen,54,2\n"), plainly, units="imperial")
    assert (rows[0].piece.width_cm, rows[0].piece.lengths_m) == (137.16, (1.8288,))


def test_a_column_can_be_said_and_left_out(tmp_path, plainly):
    path = text_file(tmp_path, "Stoff,Breite,Preis\nlinen,1.4 m,3\n")
    with pytest.raises(Unclear, match="--map"):
        read(path, plainly)
    columns, rows, _ = read(path, plainly, ["stoff=description", "Breite=width", "Preis="])
    assert importing.is_sure(columns)
    assert (rows[0].piece.width_cm, rows[0].piece.price) == (140.0, "")
    for wrong in ("Stof=description", "Stoff=descripton", "Stoff"):
        with pytest.raises(Unclear) as caught:
            read(path, plainly, [wrong])
        assert caught.value.nearest


def test_dates_follow_the_one_that_can_only_be_read_one_way(tmp_path, plainly):
    _, rows, _ = read(text_file(tmp_path, "Fabric,Date bought\nlinen,03/05/2024\nwool,25/05/2024\n"), plainly)
    assert [r.piece.bought for r in rows] == ["2024-05-03", "2024-05-25"]
    _, _, refused = read(text_file(tmp_path, "Fabric,Date bought\nlinen,03/05/2024\n"), plainly)
    assert [r.row for r in refused] == [2]


def test_unreadable_rows_are_listed_and_the_rest_go_in(tmp_path, stash, plainly):
    path = text_file(
        tmp_path, "Name,Fabric,Width,Length\na,linen,140,2\nb,linen,9000,2\n,,,\nc,linen,140,two\nd,wool,140,3\n"
    )
    done = take(stash, path, plainly)
    assert [(r.row, "width" in r.why or "length" in r.why) for r in done.refused] == [(3, True), (5, True)]
    assert [p.name for p in held(stash)] == ["a", "d"]


def test_all_or_nothing_brings_nothing_in(tmp_path, stash, plainly):
    path = text_file(tmp_path, "Name,Fabric,Width\na,linen,140\nb,linen,9000\n")
    done = take(stash, path, plainly, all_or_nothing=True)
    assert (len(done.added), len(done.refused)) == (0, 1)
    assert not stash.exists()


def test_all_or_nothing_holds_for_names_that_are_taken(tmp_path, stash, plainly):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("B", "wool"))
    done = take(stash, text_file(tmp_path, "Name,Fabric\na,linen\nb,linen\n"), plainly, all_or_nothing=True)
    assert [r.row for r in done.refused] == [3]
    assert [p.name for p in held(stash)] == ["B"]


def test_importing_twice_adds_nothing_even_after_pieces_changed(tmp_path, stash, plainly):
    path = text_file(tmp_path, "Fabric,Width,Length\nlinen,140,2\nlinen,140,2\nwool,140,3\n")
    assert len(take(stash, path, plainly).added) == 3
    with store.changing(stash) as db:
        store.replace_piece(db, "wool", pieces.cut(store.find(db, "wool"), 3.0, day="2025-01-01"))
        store.remove(db, "linen")
    before = held(stash)
    again = take(stash, path, plainly)
    assert (again.added, again.known, again.refused) == ((), 3, ())
    assert held(stash) == before
    path.write_text(path.read_text() + "silk,110,1\n")
    assert [p.name for p in take(stash, path, plainly).added] == ["silk"]


def test_rows_of_one_name_and_cloth_become_lengths_of_one_piece(tmp_path, stash, plainly):
    path = text_file(tmp_path, "Name,Fabric,Length\nblue,linen,2\nblue,linen,1.5\nblue,wool,3\n")
    done = take(stash, path, plainly)
    assert [p.lengths_m for p in held(stash)] == [(2.0, 1.5)]
    assert (done.joined, [r.row for r in done.refused]) == (1, [4])


def test_an_import_is_preceded_by_a_backup(tmp_path, stash, plainly):
    with store.changing(stash, make=True) as db:
        store.add(db, Piece("old", "wool"))
    before = held(stash)
    done = take(stash, text_file(tmp_path, "Fabric\nlinen\n"), plainly)
    assert done.backup is not None
    assert held(done.backup) == before
    assert len(held(stash)) == 2


def test_words_that_nobody_knows_refuse_the_row_and_half_known_ones_do_not(tmp_path, stash, knowledge):
    from advisor.stash.reading import understanding

    path = text_file(tmp_path, "Fabric,Measured\nlinen from zorkland,drape 40 %\nqqqq zzzz,\nlinen,soft\n")
    _, rows, refused = read(path, understanding(knowledge))
    assert [r.row for r in refused] == [3, 4]
    assert rows[0].understood.not_understood == ("zorkland",)


def test_other_encodings_are_read_and_said(tmp_path, plainly):
    table = importing.read_table(text_file(tmp_path, "Fabric,Price £\ncrêpe,£5\n", encoding="cp1252"))
    assert table.headings[1] == "Price £"
    assert table.rows[0][1][0] == "crêpe"
    assert table.remarks
    assert importing.read_table(text_file(tmp_path, "Fabric\ncrêpe\n", encoding="utf-16")).rows[0][1] == ("crêpe",)


@pytest.mark.parametrize(
    ("name", "content"),
    [("a.csv", b""), ("a.csv", b"Fabric\n"), ("a.csv", b"\0\1\2,\n\0\n"),
     ("a.xlsx", b"no"), ("a.ods", b"PK\3\4"), ("a.json", b"{}"), ("a.json", b"[1"), ("b", None)],
)  # fmt: skip
def test_a_file_that_is_no_list_is_refused_in_one_line(tmp_path, plainly, name, content):
    path = tmp_path / name
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(Unclear) as caught:
        importing.rows_from_json(path, plainly) if name.endswith(".json") else importing.read_table(path)
    assert "\n" not in caught.value.line()


def test_no_cell_of_an_export_is_a_formula():
    text = exporting.to_csv([Piece("=1+1", "@linen", kept="-x", notes=("+a", "'=b"))])
    row = next(csv.DictReader(io.StringIO(text)))
    assert row["name"] == "'=1+1"
    assert row["description"] == "'@linen"
    assert row["kept"] == "'-x"
    assert row["notes"] == "'+a\n''=b"


LINE = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=12)
LENGTH = st.integers(1, 100_000).map(lambda n: n / 10_000)
DAY = st.sampled_from(["", "2024", "2024-05", "2024-05-03"])


@st.composite
def a_piece(draw, name: str) -> Piece:
    lengths = tuple(draw(st.lists(LENGTH, max_size=3)))
    price = draw(st.sampled_from(["", "12.50", "0", "1000000"]))
    percent = st.none() | st.integers(-2000, 5000).map(lambda n: n / 100)
    kept = (
        (Reserved(draw(LINE.filter(lambda t: pieces.one_line(t))), min(lengths)),)
        if lengths and draw(st.booleans())
        else ()
    )
    return pieces.checked(
        Piece(
            name + draw(LINE), draw(LINE.filter(lambda t: pieces.one_line(t))),
            draw(st.none() | st.integers(500, 50_000).map(lambda n: n / 100)), lengths, draw(DAY), draw(LINE), price, draw(st.sampled_from(["", "GBP", "$"])),
            draw(st.sampled_from(["", "m", "yd"])),
            draw(st.none() | st.booleans()), draw(percent), draw(percent), draw(LINE), draw(LINE),
            tuple(draw(st.lists(LINE, max_size=3))),
            kept, tuple(Cut(d or "2024", m, t) for d, m, t in draw(st.lists(st.tuples(DAY, LENGTH, LINE), max_size=2))),
            "2024-05-01",
        )
    )  # fmt: skip


@pytest.mark.parametrize("form", ["csv", "json"])
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_what_is_exported_comes_back_the_same(tmp_path_factory, form, data):
    made = [data.draw(a_piece(f"{i} ")) for i in range(data.draw(st.integers(1, 3)))]
    folder = tmp_path_factory.mktemp("round")
    path = folder / f"out.{form}"
    exporting.write(exporting.to_csv(made) if form == "csv" else exporting.to_json(made), path)

    def understand(description: str, tests: str) -> Understood:
        return Understood()

    if form == "csv":
        columns, rows, refused = read(path, understand)
        assert importing.is_sure(columns)
    else:
        rows, refused = importing.rows_from_json(path, understand)
    done = importing.take_in(folder / "stash.db", rows, refused)
    assert done.refused == ()
    assert held(folder / "stash.db") == made
