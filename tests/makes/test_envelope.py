"""What a pattern's envelope prints, read: advisor.making.envelope and yardage."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.errors import Unclear
from advisor.making.envelope import read_cloths, read_envelope, read_stretch, read_table, split_names
from advisor.making.envelope_words import envelope_words


@pytest.fixture(scope="module")
def words(knowledge):
    return envelope_words(knowledge.folders)


def rows(text, words):
    table = read_table(text, words).table
    assert table.unread == [], table.unread
    return [(r.view, r.size, r.width_cm, r.length_m, r.nap, r.part) for r in table.rows]


INLINE = [
    ('45″ 3 1/8 yd, 60″ 2 3/8 yd', [(114.3, 2.857), (152.4, 2.172)]),
    ("115 cm: 2,90 m", [(115, 2.9)]),
    ("115 cm: 290 cm", [(115, 2.9)]),
    ("115cm 2.90m; 150cm 2.10m", [(115, 2.9), (150, 2.1)]),
    ("2.4 m of 115 cm wide cloth, 1.9 m of 140 cm", [(115, 2.4), (140, 1.9)]),
    ('1½ yards of 60" wide fabric', [(152.4, 1.372)]),
    ('2-3/8 yds 45"', [(114.3, 2.172)]),
    ('45" (115 cm) 3 yds (2.75 m)', [(114.3, 2.743)]),
    ("45 inches ¾ yard", [(114.3, 0.686)]),
    ("140 cm 1,60 - 1,90 m", [(140, 1.9)]),
    ('44/45" 2 yd', [(111.8, 1.829)]),
    ('150 cm / 60" 2 m', [(150, 2.0)]),
    ("1.5 m (140 cm wide)", [(140, 1.5)]),
    ("2 m x 150 cm", [(150, 2.0)]),
    ('60" 2 yd or 45" 3 yd', [(152.4, 1.829), (114.3, 2.743)]),
    ('FABRIC REQUIREMENTS\n45" wide - 2 3/4 yd (2.5m)', [(114.3, 2.515)]),
    ("112-115 cm 2 m", [(112, 2.0)]),
]


@pytest.mark.parametrize(("text", "expected"), INLINE)
def test_widths_and_lengths_on_one_line(text, expected, words):
    assert [(width, length) for _, _, width, length, _, _ in rows(text, words)] == expected


def test_a_table_of_sizes_gives_a_row_for_each_view_and_size_with_its_nap(words):
    text = 'Sizes  8  10  12\nView A\n45"**  2 3/8 2 1/2 2 yd\n60"*  1 7/8 - 2 yds\nView B, C\n45"*/** 3 3 3 1/8\n*with nap **without nap'
    got = rows(text, words)
    assert [r for r in got if r[0] == "A"] == [
        ("A", "8", 114.3, 2.172, "without", "main"), ("A", "10", 114.3, 2.286, "without", "main"), ("A", "12", 114.3, 1.829, "without", "main"),
        ("A", "8", 152.4, 1.714, "with", "main"), ("A", "12", 152.4, 1.829, "with", "main"),
    ]  # fmt: skip
    assert {r[0] for r in got} == {"A", "B", "C"}
    assert {r[4] for r in got if r[0] in "BC"} == {"either"}


def test_a_whole_number_before_a_whole_number_is_not_a_mixed_one(words):
    got = rows('Sizes S M L\n45" 2 2 1/2 3 yd', words)
    assert [r[3] for r in got] == [1.829, 2.286, 2.743]


def test_a_table_of_widths_with_sizes_below_is_read_across(words):
    text = "size\t115 cm\t150 cm\n36\t2,10\t1,60\n38\t2,15 m\t1,65 m\n40\t-\t1,70"
    assert [r[1:4] for r in rows(text, words)] == [
        ("36", 115, 2.1), ("36", 150, 1.6), ("38", 115, 2.15), ("38", 150, 1.65), ("40", 150, 1.7),
    ]  # fmt: skip


def test_lining_and_contrast_are_parts_and_a_new_view_begins_with_its_main_cloth(words):
    got = rows('View A\n45" 2 yd\nLining A\n45" 1 yd\nContrast A, B\n60" 1/2 yd\nView B\n45" 3 yd', words)
    assert [(r[0], r[5]) for r in got] == [("A", "main"), ("A", "lining"), ("A", "contrast"), ("B", "contrast"), ("B", "main")]


NAMED = [
    ("140 cm: A 2,10 m, B 2,40 m", [("A", "", 2.1), ("B", "", 2.4)]),
    ("150cm wide 1.40m for sizes 8-14", [("", "8-14", 1.4)]),
    ('45" wide: 3 1/8 yards (sizes 8-12), 3 3/8 yards (sizes 14-18)', [("", "8-12", 2.857), ("", "14-18", 3.086)]),
    ("Size 38: 1.60 m at 140 cm, 1.90 m at 115 cm", [("", "38", 1.6), ("", "38", 1.9)]),
    ("Size 38 – 1,60 m × 140 cm", [("", "38", 1.6)]),
    ("Sizes 8-10 12-14\nA 140 cm 2 2.2 m", [("A", "8-10", 2.0), ("A", "12-14", 2.2)]),
    ("6-8-10\nDress A 140 cm 1 - 1.2 m", [("A", "6", 1.0), ("A", "10", 1.2)]),
    ("A, B 140 cm 1 m", [("A", "", 1.0), ("B", "", 1.0)]),
]


@pytest.mark.parametrize(("text", "expected"), NAMED)
def test_views_and_sizes_on_either_side_of_the_lengths(text, expected, words):
    assert [(view, size, length) for view, size, _, length, _, _ in rows(text, words)] == expected


def test_with_and_without_nap_in_words(words):
    assert [r[4] for r in rows('45" 2 yd with nap\n60" 2 yd without nap\n45" with or without nap 3 yd', words)] == ["with", "without", "either"]


def test_asterisks_that_are_not_explained_are_taken_as_the_trade_does_and_that_is_said(words):
    table = read_table('45"* 2 yd', words).table
    assert table.rows[0].nap == "with"
    assert any("asterisks" in note for note in table.notes)


def test_the_envelopes_own_meaning_of_its_asterisks_goes_before_the_trades(words):
    assert rows('*without nap, **with nap\n45"* 2 yd, 60"** 1 yd', words)[0][4] == "without"


REFUSED = [
    ('45" 2 3 4 yd', "no line of sizes"),
    ('Sizes S M L\n45" 2 3 yd', "2 lengths and 3 sizes"),
    ('45" 3 1/8 banana', "banana"),
    ('45" 2 yd (3.20 m)', "two different lengths"),
    ('4500 cm 3 m', "nothing of a table"),
    ('20 cm 3 m', "width"),
    ('45" 99 yd', "length"),
    ("a song of the sea", "nothing of a table"),
    ('45" *** nothing 2 yd', "nothing"),
]


@pytest.mark.parametrize(("text", "why"), REFUSED)
def test_what_cannot_be_read_is_listed_with_its_line_and_never_guessed(text, why, words):
    table = read_table(text, words).table
    assert len(table.unread) == 1, table
    assert why in table.unread[0].why
    assert table.unread[0].line == text.count("\n") + 1
    assert table.rows == []


STRETCH = [
    ("stretch from 10 cm to 13.5 cm", None, 35),
    ('4" (10 cm) of folded crosswise fabric must stretch to at least 6" (15 cm)', None, 50),
    ("moderate stretch knits only", None, 25),
    ("25 % crosswise", None, 25),
    ("25% crosswise and 10 % lengthwise", 10, 25),
    ("35 % both ways", 35, 35),
    ("two-way stretch, 50 %", 50, 50),
    ("10 cm stretches lengthwise to 12 cm", 20, None),
    ("from 4 to 5 1/2 inches across", None, 37.5),
]


@pytest.mark.parametrize(("text", "along", "across"), STRETCH)
def test_the_stretch_gauge(text, along, across, words):
    read = read_stretch(text, words)
    assert (read.along, read.across) == (along, across)


@pytest.mark.parametrize("text", ["10 cm to 8 cm", "stretchy", "", "from 10 cm to 10 cm", "900 %", "0 % across"])
def test_what_is_no_stretch_is_refused(text, words):
    with pytest.raises(Unclear):
        read_stretch(text, words)


def test_a_class_of_stretch_says_that_it_is_one(words):
    assert any("at least 25 %" in note for note in read_stretch("moderate stretch", words).notes)


CLOTHS = [
    ("lightweight wovens such as lawn, voile, challis", ["lightweight wovens", "lawn", "voile", "challis"], "woven"),
    ("wovens such as lawn or voile.", ["lawn", "voile"], "woven"),
    ("Moderate stretch knits only", ["moderate stretch knits"], "knit"),
    ("wool crêpe; flannel\nand tweed", ["wool crêpe", "flannel", "tweed"], ""),
    ("wovens and knits", ["wovens", "knits"], ""),
    ("knits with 25% crosswise stretch such as jersey, interlock", ["knits", "jersey", "interlock"], "knit"),
]


@pytest.mark.parametrize(("text", "cloths", "kind"), CLOTHS)
def test_suggested_cloths_and_what_they_say_of_the_kind(text, cloths, kind, words):
    read = read_cloths(text, words)
    assert [c for c in read.cloths if c not in words.kinds["knit"] or kind != "knit"] == [c for c in cloths if c not in words.kinds["knit"] or kind != "knit"]
    assert read.kind == kind


def test_notions_keep_their_figures_whole():
    assert split_names('Thread, five 5/8" (15 mm, flat) buttons; 1,5 m of 6 mm elastic and a hook') == [
        "Thread", 'five 5/8" (15 mm, flat) buttons', "1,5 m of 6 mm elastic", "a hook",
    ]  # fmt: skip


WHOLE = """Quayside dress (invented)
Suggested Fabrics: Lightweight wovens such as lawn, voile, challis,
crepe de chine. Not suitable for obvious diagonals, plaids or stripes.
Unsuitable for knits
Allow extra fabric to match plaids or stripes.
Notions: Thread, five 5/8" (15 mm) buttons, 1,5 m of 6 mm elastic,
1/2 yd light fusible interfacing
Yardage
Sizes  8  10  12  14
View A
45"**  2 3/8 2 1/2 2 5/8 2 3/4 yd
60"*   1 7/8 1 7/8 2 2 yds
A lining 45" 1 yd
*with nap **without nap
Finished garment measurements
Bust 88 92 96 100 cm
"""


def test_the_back_of_a_whole_envelope(words):
    read = read_envelope(WHOLE, words)
    assert read.title == "Quayside dress (invented)"
    assert read.suggests == ["lightweight wovens", "lawn", "voile", "challis", "crepe de chine"]
    assert read.not_for == ["obvious diagonals", "plaids", "stripes", "knits"]
    assert read.kind == "woven"
    assert read.notions == ["Thread", 'five 5/8" (15 mm) buttons', "1,5 m of 6 mm elastic", "1/2 yd light fusible interfacing"]
    assert read.advice == ["Allow extra fabric to match plaids or stripes."]
    assert len(read.rows) == 9
    assert read.rows[-1].part == "lining"
    assert read.unread == []


def test_an_envelope_for_knits_with_headings_on_lines_of_their_own(words):
    read = read_envelope(
        "SUGGESTED FABRICS\nModerate stretch knits only: cotton jersey, interlock, ponte.\nSTRETCH GAUGE\n"
        "Knit must stretch crosswise from 10 cm to 13.5 cm\n\nFABRIC REQUIRED (m)\n        115 cm   150 cm\n"
        "XS-M    1,60     1,20\nL-XL    1,90     1,40\nNOTIONS\nThread\nTwin needle\n",
        words,
    )
    assert read.kind == "knit"
    assert read.stretch_across == 35  # the gauge, not the class
    assert [(r.size, r.width_cm, r.length_m) for r in read.rows] == [
        ("XS-M", 115, 1.6), ("XS-M", 150, 1.2), ("L-XL", 115, 1.9), ("L-XL", 150, 1.4),
    ]  # fmt: skip
    assert read.notions == ["Thread", "Twin needle"]
    assert read.unread == []


def test_every_class_of_stretch_and_every_bound_carries_a_source(words, knowledge):
    known = {*knowledge.sources, "common practice", "from memory"}
    assert {c.source for c in words.classes} | {words.source, words.narrowest.source, words.widest.source, words.longest.source} <= known
    assert {c.at_least_pct > 0 for c in words.classes} == {True}


PRINTED = st.text(alphabet=st.sampled_from(list('0123456789/.,"″½¾ *()-:;\n\tabcdmyxslABCwithnap%')), max_size=120)


@settings(max_examples=300, deadline=None, suppress_health_check=list(HealthCheck))
@given(text=st.one_of(PRINTED, st.text(max_size=80)))
def test_any_text_is_read_or_refused_never_a_crash(text, words):
    for read in (read_envelope, read_table, read_stretch, read_cloths):
        try:
            got = read(text, words)
        except Unclear:
            continue
        for row in getattr(got, "rows", []):
            assert 0 < row.length_m <= words.longest.value
            assert words.narrowest.value <= row.width_cm <= words.widest.value


@pytest.mark.parametrize("piece", ["1", '45" ', "1 1/8 ", "from 1 to ", "1 cm ", "* ", "A, ", "a. suggested fabrics "])
def test_no_text_keeps_the_reader_busy(piece, words):
    import time

    for text in ((piece * 1000)[:1000], "\n".join([(piece * 1000)[:1000]] * 19), piece * 30_000):
        start = time.process_time()
        for read in (read_envelope, read_table, read_stretch, read_cloths):
            try:
                read(text, words)
            except Unclear:
                continue
        assert time.process_time() - start < 5


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    eighths=st.lists(st.lists(st.integers(4, 48), min_size=3, max_size=3), min_size=1, max_size=4),
    widths=st.lists(st.sampled_from([36, 45, 54, 60]), min_size=4, max_size=4, unique=True),
)
def test_a_table_as_printed_is_read_back_to_its_figures(eighths, widths, words):
    """Yards in eighths, written as an envelope writes them, come back as the metres that they are."""
    def mixed(n):
        whole, rest = divmod(n, 8)
        part = {0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}[rest]
        return " ".join(p for p in (str(whole) if whole else "", part) if p) or "0"

    text = "Sizes 8 10 12\n" + "\n".join(f'{w}"  ' + "  ".join(mixed(n) for n in line) + " yd" for w, line in zip(widths, eighths, strict=False))
    got = read_table(text, words).table.rows
    meant = [(size, w, n) for w, line in zip(widths, eighths, strict=False) for size, n in zip(["8", "10", "12"], line, strict=True)]
    assert [(r.size, r.width_cm) for r in got] == [(size, round(w * 2.54, 1)) for size, w, _ in meant]
    assert [r.length_m for r in got] == pytest.approx([n / 8 * 0.9144 for _, _, n in meant], abs=0.001)
