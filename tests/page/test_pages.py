"""Every page answers, keeps what was typed when something is wrong, and changes only what it should."""

from __future__ import annotations

import io
import re

import pytest
from PIL import Image

from advisor.stash import store

CHALLIS = "viscose challis, 95 gsm, frays badly for covered buttons, flounce"
PAGES = [
    "/", f"/check?ask={CHALLIS}", "/check?ask=linen", "/press?ask=acetate satin lining", "/prewash?ask=linen 185 gsm&care=40 wash, line dry",
    "/sew?ask=linen for flounce&allowance=10", "/cloth?ask=linen", "/stash", "/stash/new", "/stash/import", "/makes", "/makes/new", "/makes/edit",
    "/makes/view?name=example/summer-wrap-blouse", "/pick", "/pick?make=example/summer-wrap-blouse&from=words&cloths=cotton lawn", "/plan",
    "/need", "/need/buttons?diameter=15", "/need/buttons/print?diameter=15&count=9", "/need/loops/print?diameter=11&count=9&opening=20",
    "/need/bias/print?finished=10&length=5", "/need/layout?piece=front 72 x 30 cm, cut 2&width=140",
    "/need/layout/picture.svg?piece=front 72 x 30 cm, cut 2&width=140", "/need/thread?seam=12", "/tests", "/tests/weight", "/tests/recovery?step=1",
    "/tests/drape-fall?step=4", "/tests/weight/result?mass_g=250&length_m=2&width_cm=140", "/explain", "/explain?kind=fibres", "/explain/flounce",
    "/explain/viscose-challis", "/more", "/api/openapi.json", "/alive",
]  # fmt: skip


@pytest.mark.parametrize("path", PAGES)
def test_a_page_does_not_answer(client, path):
    answer = client.get(path)
    assert answer.status_code == 200, answer.text[:400]


@pytest.mark.parametrize("path", ["/need/nonsense", "/tests/nonsense", "/explain/zzzzqq", "/stash/piece?name=none", "/makes/view?name=own/../../etc/passwd", "/pick?make=../x"])
def test_what_is_not_there_is_no_plain_error(client, path):
    answer = client.get(path)
    assert answer.status_code == 422 and "expected" in answer.text and "Traceback" not in answer.text


def test_the_answer_on_the_page_is_another_than_the_core_gives(client, desk):
    from advisor import check

    core = check("viscose challis, 95 gsm, frays badly", ["covered buttons", "flounce"], knowledge=desk.knowledge)
    text = client.get("/check", params={"ask": CHALLIS}).text
    assert f"{round(core.score.expected)} of 100" in text
    assert all(f.say.replace("'", "&#39;") in text for f in core.findings)


def test_as_one_types_the_whole_page_is_sent(client):
    part = client.get("/check", params={"ask": CHALLIS}, headers={"hx-request": "true"}).text
    assert "<html" not in part and "of 100" in part and len(part) < 40_000


def test_a_question_that_is_not_understood_loses_what_was_typed(client):
    answer = client.get("/check", params={"ask": "linen for zzyzzyx", "feature": "gathers", "figure.gathers.fullness": "2.2", "care": "40 wash"})
    assert answer.status_code == 422
    assert "linen for zzyzzyx" in answer.text and 'value="2.2"' in answer.text and 'value="40 wash"' in answer.text
    assert re.search(r'value="gathers" id="t-gathers" checked', answer.text)


def test_a_verb_in_the_box_does_not_lead_to_its_sheet(client):
    answer = client.get("/", params={"ask": "press acetate satin lining"}, follow_redirects=False)
    assert answer.headers["location"].startswith("/press?")


# ---- the stash ----


def jpeg(size=(40, 30), **more) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (120, 40, 60)).save(out, "JPEG", **more)
    return out.getvalue()


def with_place() -> bytes:
    """A photograph that tells where it was taken, and carries a script behind its picture."""
    exif = Image.Exif()
    exif[0x010F] = "SecretCamera"
    exif.get_ifd(0x8825)[1] = "N"
    exif[0x0112] = 6
    return jpeg((400, 200), exif=exif) + b"<script>alert(1)</script>"


def add(client, token, **fields):
    return client.post("/stash/new", data={"token": token, **fields}, follow_redirects=False)


def pieces(desk):
    with store.reading(desk.stash) as db:
        return store.pieces(db)


def test_a_piece_with_a_photograph_is_not_kept(client, desk, token):
    answer = client.post(
        "/stash/new", data={"token": token, "description": "linen, 185 gsm", "length": "2 m + 1.5 m", "width": "140 cm"},
        files={"photo": ("../../evil.php", with_place(), "image/jpeg")}, follow_redirects=False,
    )  # fmt: skip
    assert answer.status_code == 303
    piece = pieces(desk)[0]
    assert piece.lengths_m == (2.0, 1.5) and piece.width_cm == 140
    kept = list(desk.photographs.folder.glob("*.jpg"))
    assert [str(kept[0])] == [piece.photo] and len(kept) == 1
    data = kept[0].read_bytes()
    assert b"SecretCamera" not in data and b"script" not in data and b"Exif" not in data
    assert Image.open(kept[0]).size == (200, 400), "turned upright"
    shown = client.get("/stash/photo", params={"name": piece.name})
    assert shown.headers["content-type"] == "image/jpeg" and shown.content == data


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.jpg", b"<?php system($_GET['c']); ?>"),
        ("a.svg", b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
        ("a.jpg", jpeg()[:200]),
        ("a.gif", b"GIF89a\x01\x00\x01\x00\x00\x00\x00;"),
        ("a.jpg", b""),
    ],
)
def test_a_file_that_is_no_photograph_goes_in_or_the_words_are_lost(client, desk, token, name, data):
    answer = client.post("/stash/new", data={"token": token, "description": "cotton lawn for Ada"}, files={"photo": (name, data, "image/jpeg")})
    assert answer.status_code == 422 and "cotton lawn for Ada" in answer.text and "photograph" in answer.text
    assert not desk.stash.exists() and not list(desk.home.rglob("*.jpg"))


def test_a_picture_bomb_is_unpacked(client, token):
    import zlib

    def chunk(kind: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4, "big") + kind + body + zlib.crc32(kind + body).to_bytes(4, "big")

    head = (50_000).to_bytes(4, "big") * 2 + bytes([8, 2, 0, 0, 0])
    bomb = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")
    answer = client.post("/stash/new", data={"token": token, "description": "linen"}, files={"photo": ("a.png", bomb, "image/png")})
    assert answer.status_code == 422


def test_a_photograph_is_lost_with_a_wrong_field(client, desk, token):
    answer = client.post("/stash/new", data={"token": token, "description": "linen", "length": "very long"}, files={"photo": ("a.jpg", jpeg(), "image/jpeg")})
    assert answer.status_code == 422
    waiting = re.search(r'name="waiting" value="([0-9a-f]{24}\.jpg)"', answer.text).group(1)
    assert client.get("/stash/photo", params={"waiting": waiting}).status_code == 200
    assert add(client, token, description="linen", length="2 m", waiting=waiting).status_code == 303
    assert pieces(desk)[0].photo.endswith(waiting)


@pytest.mark.parametrize("name", ["../stash.db", "..%2f..%2fstash.db", "/etc/passwd", "a" * 24 + ".jpg"])
def test_a_name_of_a_photograph_leads_elsewhere(client, token, name):
    assert client.get("/stash/photo", params={"waiting": name}).status_code == 404


def test_a_photograph_elsewhere_on_the_disk_is_shown(client, desk, token, tmp_path):
    from dataclasses import replace

    add(client, token, description="linen")
    other = tmp_path / "private.jpg"
    other.write_bytes(jpeg())
    with store.changing(desk.stash) as db:
        store.replace_piece(db, "linen", replace(store.find(db, "linen"), photo=str(other)))
    assert client.get("/stash/photo", params={"name": "linen"}).status_code == 404


@pytest.mark.parametrize("token_given", ["", "0" * 64, "x"])
def test_a_form_without_the_right_token_changes_something(client, desk, token, token_given):
    answer = client.post("/stash/new", data={"token": token_given, "description": "linen for Ada"})
    assert answer.status_code == 422 and "linen for Ada" in answer.text and not desk.stash.exists()


def test_editing_a_piece_changes_what_was_not_edited(client, desk, token):
    add(client, token, name="mine", description="wool flannel, 280 gsm", length="1.8 m", price="12.50 GBP a metre", shrank="5 x 3", prewashed="yes",
        bought="2024-05", kept="blue box", tests="drape 40 %", notes="two\nlines")  # fmt: skip
    before = pieces(desk)[0]
    form = client.get("/stash/edit", params={"name": "mine"}).text
    fields = dict(re.findall(r'<input id="f-\w+" name="(\w+)" type="text" value="([^"]*)"', form))
    fields |= {name: re.search(rf'<textarea id="f-{name}"[^>]*>([^<]*)<', form).group(1) for name in ("description", "notes")}
    fields["prewashed"] = "yes"
    answer = client.post("/stash/edit", params={"name": "mine"}, data={**fields, "token": token, "kept": "shelf"}, follow_redirects=False)
    assert answer.status_code == 303
    from dataclasses import replace

    assert pieces(desk)[0] == replace(before, kept="shelf")


def test_a_cut_a_note_and_a_reservation_do_not_arrive(client, desk, token):
    add(client, token, description="linen", length="3 m")
    for path, fields in (("use", {"length": "1.2 m", "make": "skirt"}), ("note", {"note": "a pulled thread"}), ("reserve", {"make": "blouse", "length": "1 m"})):
        assert client.post(f"/stash/{path}", data={"token": token, "name": "linen", **fields}, follow_redirects=False).status_code == 303
    piece = pieces(desk)[0]
    assert piece.left_m == 1.8 and piece.cuts[0].make == "skirt" and "a pulled thread" in piece.notes[0] and piece.reserved[0].metres == 1
    wrong = client.post("/stash/use", data={"token": token, "name": "linen", "length": "1.5 m", "make": "coat"})
    assert wrong.status_code == 422 and 'value="1.5 m"' in wrong.text and "reserved" in wrong.text
    client.post("/stash/release", data={"token": token, "name": "linen", "make": "blouse"})
    assert not pieces(desk)[0].reserved


def test_a_piece_goes_without_a_backup(client, desk, token):
    from advisor.stash.backup import backups_of

    add(client, token, description="linen")
    assert "Take it out" in client.get("/stash/remove?name=linen").text
    client.post("/stash/remove", data={"token": token, "name": "linen"})
    assert not pieces(desk) and backups_of(desk.stash)


def test_a_result_of_a_test_is_not_kept_with_its_piece(client, desk, token):
    add(client, token, description="linen")
    client.post("/stash/measured", data={"token": token, "name": "linen", "phrase": "measured: 89±3 gsm"})
    assert "89±3 gsm" in pieces(desk)[0].tests


def test_an_answer_about_a_piece_is_older_than_the_piece(client, desk, token, monkeypatch):
    monkeypatch.setenv("ADVISOR_STASH", str(desk.stash))
    add(client, token, name="mine", description="linen, 185 gsm")
    assert 'href="/check?ask=piece%3Amine"' in client.get("/stash/piece?name=mine").text
    assert "185 g/m²" in client.get("/press", params={"ask": "piece:mine"}).text
    client.post("/stash/edit", params={"name": "mine"}, data={"token": token, "name": "mine", "description": "silk habotai, 40 gsm"})
    assert "40 g/m²" in client.get("/press", params={"ask": "piece:mine"}).text


# ---- lists ----


def test_a_list_does_not_come_in(client, desk, token):
    look = client.post("/stash/import", data={"token": token}, files={"list": ("my cloth.csv", b"Fabric,Metres,Width\ncotton lawn,2,140\nzzyzzyx,1,140\n", "text/csv")})
    assert look.status_code == 200 and "my cloth.csv" in look.text and not desk.stash.exists()
    name = re.search(r'name="list" value="([^"]+)"', look.text).group(1)
    heads, fields = re.findall(r'name="heading" value="([^"]+)"', look.text), re.findall(r'<option value="(\w+)" selected', look.text)
    done = client.post("/stash/import/take", data={"token": token, "list": name, "called": "my cloth.csv", "heading": heads, "field": fields})
    assert "1 piece brought in" in done.text and "Row 3" in done.text and pieces(desk)[0].lengths_m == (2.0,)


@pytest.mark.parametrize("name", ["evil.exe", "list", "../../x.csv.sh", "empty.csv"])
def test_a_file_of_another_kind_comes_in(client, desk, token, name):
    data = b"" if name == "empty.csv" else b"Fabric\nlinen\n"
    answer = client.post("/stash/import", data={"token": token}, files={"list": (name, data, "text/csv")})
    assert answer.status_code == 422 and not list(desk.home.rglob("*.csv"))


def test_a_spreadsheet_that_unpacks_without_end_is_read(client, token):
    import zipfile

    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("xl/workbook.xml", b"0" * 260_000_000)
    answer = client.post("/stash/import", data={"token": token}, files={"list": ("bomb.xlsx", out.getvalue(), "x")})
    assert answer.status_code == 422 and "unpacked" in answer.text


@pytest.mark.parametrize("name", ["../stash.db", "x", "a" * 24 + ".csv"])
def test_a_list_by_another_name_is_read(client, token, name):
    answer = client.post("/stash/import/take", data={"token": token, "list": name, "called": "x"})
    assert answer.status_code == 422 and "no longer there" in answer.text


# ---- makes ----


def test_a_make_by_answers_is_not_kept(client, desk, token):
    answer = client.post(
        "/makes/new", data={"token": token, "name": "Saturday skirt", "features": "gathered skirt", "feature": "covered-buttons",
                            "figure.covered-buttons.diameter_mm": "15", "season": "summer", "hours": "6"}, follow_redirects=False)  # fmt: skip
    assert answer.status_code == 303, re.findall(r'role="alert">.*?</div>', answer.text, re.S)
    made = desk.shelf.find("own/saturday-skirt").make
    assert made.season == "summer" and len(made.features) == 2 and "15" in str(made.features[1])
    assert "Saturday skirt" in client.get("/makes").text
    client.post("/makes/remove", data={"token": token, "name": "own/saturday-skirt"})
    assert "Saturday skirt" not in client.get("/makes").text


def test_a_wrong_make_is_kept_or_its_text_lost(client, desk, token):
    text = "make: Mine\nfeatures:\n  - zzyzzyx\nseeson: summer\n"
    answer = client.post("/makes/edit", data={"token": token, "text": text})
    assert answer.status_code == 422 and "zzyzzyx" in answer.text and "Line 3" in answer.text and not desk.shelf.folder.exists()


def test_an_example_is_overwritten_or_taken_out(client, desk, token):
    from advisor.knowledge import shipped_folder

    path = shipped_folder() / "makes" / "summer-wrap-blouse.yaml"
    before = path.read_text()
    client.post("/makes/edit?name=example/summer-wrap-blouse", data={"token": token, "text": before.replace("summer", "winter")})
    assert client.post("/makes/remove", data={"token": token, "name": "example/summer-wrap-blouse"}).status_code == 422
    assert path.read_text() == before and desk.shelf.find("own/larkfield-wrap-blouse").make


def test_the_stash_is_not_ranked_for_a_make(client, desk, token):
    add(client, token, description="viscose challis, 95 gsm", length="3 m", width="140 cm")
    text = client.get("/pick", params={"make": "example/summer-wrap-blouse", "from": "stash"}).text
    assert "1 of 1 pieces would do" in text and "viscose challis" in text


def test_the_plan_is_not_drawn(client, token):
    add(client, token, description="viscose challis, 95 gsm", length="3 m", width="140 cm")
    text = client.get("/plan", params={"make": "example/summer-wrap-blouse", "hours": "6", "by": "2030-06-01"}).text
    assert 'class="dates"' in text and "1 of 1 from the stash" in text
    assert client.get("/plan", params={"make": "example/summer-wrap-blouse", "hours": "many"}).status_code == 422


# ---- tests, guided ----


def test_a_wrong_figure_of_a_test_is_lost(client):
    answer = client.get("/tests/weight/result", params={"mass_g": "250", "length_m": "2", "width_cm": "wide"})
    assert answer.status_code == 422 and 'value="250"' in answer.text and 'value="wide"' in answer.text


@pytest.mark.parametrize(("step", "seconds"), [("hold it for a minute.", 60), ("for half a minute and", 30), ("for ten seconds, from", 10), ("wait another minute", 60), ("for two minutes in", 120), ("Fold it.", 0), ("a quarter of an hour if", 900), ("for one minute.", 60)])
def test_the_timer_runs_for_another_time_than_the_step_says(step, seconds):
    from advisor.page.routes.tests import seconds_in

    assert seconds_in(step) == seconds
