"""The page in a real browser, on a telephone and on a table: what a maker does most, by hand, eye and screen reader."""

from __future__ import annotations

import io

import pytest

pytest.importorskip("playwright", reason="end-to-end tests need playwright (the extra 'test')")
pytest.importorskip("axe_playwright_python", reason="end-to-end tests need axe-playwright-python (the extra 'test')")

from axe_playwright_python.sync_playwright import Axe
from browser import FLAGS, SIZES, Watch, chromium, serving
from PIL import Image
from playwright.sync_api import expect, sync_playwright

from advisor.page.desk import Desk
from advisor.stash import store

pytestmark = pytest.mark.skipif(chromium() is None, reason="no Chromium here: install Debian's package chromium, or name one in CHROMIUM")

CHALLIS = "viscose challis, 95 gsm, frays badly for covered buttons, flounce"


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=chromium(), args=FLAGS)
        yield found
        found.close()


@pytest.fixture(scope="module")
def desk(knowledge, tmp_path_factory) -> Desk:
    """A desk of these tests alone, with one piece in its stash."""
    from advisor.stash.pieces import Piece

    made = Desk(knowledge, tmp_path_factory.mktemp("desk") / "stash.db")
    with store.changing(made.stash, make=True) as db:
        store.add(db, Piece("blue linen", "linen, 185 gsm", 140.0, (3.0,), added="2026-01-01"))
    return made


@pytest.fixture(scope="module")
def home(desk):
    with serving(desk) as address:
        yield address


@pytest.fixture(params=SIZES)
def page(request, browser, home):
    """A page of either size that must end without a fault."""
    wide, high = SIZES[request.param]
    context = browser.new_context(viewport={"width": wide, "height": high}, has_touch=request.param == "phone", color_scheme="light")
    found = context.new_page()
    found.set_default_timeout(15_000)
    found.home = home
    found.size = request.param
    found.watch = Watch(found, home)
    yield found
    faults = found.watch.faults
    context.close()
    assert not faults


def go(page, path: str) -> None:
    page.goto(page.home + path)


def test_does_it_suit_is_not_answered_as_one_types(page):
    go(page, "/")
    page.get_by_label("Your cloth, and what for").press_sequentially(CHALLIS, delay=4)
    expect(page.locator("#answer h2").first).to_contain_text("Suits")
    expect(page.locator("#answer")).to_contain_text("covered buttons")
    expect(page.locator("#said")).to_contain_text("of 100")
    assert "ask=viscose" in page.url, "the address can be kept"
    page.reload()
    expect(page.locator("#answer h2").first).to_contain_text("Suits")


@pytest.mark.parametrize(("tab", "ask", "says"), [("Press", "acetate satin lining", "110 °C"), ("Pre-wash", "linen 185 gsm", "times the pattern")])
def test_how_is_it_pressed_or_washed_is_not_answered(page, tab, ask, says):
    go(page, "/")
    page.get_by_label("Your cloth, and what for").fill(ask)
    page.get_by_role("button", name=tab).click()
    expect(page.locator("#answer")).to_contain_text(says)


def test_a_name_cannot_be_chosen_by_the_keys_alone(page):
    go(page, "/")
    box = page.get_by_label("Your cloth, and what for")
    box.press_sequentially("rayon chal", delay=10)
    expect(page.get_by_role("option").first).to_be_visible()
    box.press("ArrowDown")
    expect(page.get_by_role("option").first).to_have_attribute("aria-selected", "true")
    box.press("Enter")
    expect(box).to_have_value("rayon challis")
    expect(page.get_by_role("listbox")).to_be_hidden()
    box.press_sequentially(" for a floun", delay=10)
    expect(page.get_by_role("option").first).to_contain_text("flounce")
    box.press("Escape")
    expect(page.get_by_role("listbox")).to_be_hidden()


def test_a_ticked_picture_does_not_count(page):
    go(page, "/")
    page.get_by_label("Your cloth, and what for").fill("linen 185 gsm")
    page.locator(".picker > summary").click()
    page.get_by_label("Find in the pictures").fill("covered b")
    page.get_by_label("covered buttons", exact=True).check()
    page.locator("#n-covered-buttons-diameter_mm").fill("12")
    expect(page.locator("#answer")).to_contain_text("covered buttons")


def test_a_piece_with_a_photograph_cannot_be_added(page, desk):
    photo = io.BytesIO()
    Image.new("RGB", (300, 200), (30, 90, 140)).save(photo, "JPEG")
    name = f"charmeuse {page.size}"
    go(page, "/stash")
    page.get_by_role("link", name="Add a piece").click()
    page.get_by_label("The cloth in your own words").fill("silk charmeuse, 80 gsm")
    page.get_by_label("Photograph").set_input_files({"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": photo.getvalue()})
    page.get_by_label("Length left").fill("two ells")
    page.get_by_label("Your own name for it").fill(name)
    page.watch.expected = {"422"}
    page.get_by_role("button", name="Put it in").click()
    expect(page.get_by_role("alert").filter(has_text="two ells")).to_be_visible()
    expect(page.get_by_label("The cloth in your own words")).to_have_value("silk charmeuse, 80 gsm")
    expect(page.get_by_alt_text("The photograph that you chose")).to_be_visible()
    page.get_by_label("Length left").fill("2.2 m")
    page.get_by_role("button", name="Put it in").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(name)
    shown = page.get_by_alt_text(f"Photograph of {name}")
    assert shown.evaluate("i => i.complete && i.naturalWidth") == 300
    page.get_by_text("Cut some off").click()
    page.get_by_label("How much").first.fill("0.7 m")
    page.get_by_role("button", name="Cut it off").click()
    expect(page.locator(".facts")).to_contain_text("1.50 m")


def test_a_file_that_is_too_large_takes_what_was_typed(page, tmp_path):
    path = tmp_path / "huge.jpg"
    path.write_bytes(b"x" * 17_000_000)
    go(page, "/stash/new")
    page.get_by_label("The cloth in your own words").fill("linen for Ada")
    page.get_by_label("Photograph").set_input_files(path)
    page.get_by_role("button", name="Put it in").click()
    expect(page.get_by_role("alert").filter(has_text="too large")).to_be_visible()
    expect(page.get_by_label("The cloth in your own words")).to_have_value("linen for Ada")


def test_a_spreadsheet_cannot_be_brought_in(page, desk, tmp_path, root, monkeypatch):
    monkeypatch.syspath_prepend(str(root / "tests" / "stash"))
    from spreadsheets import xlsx

    path = tmp_path / "cloth.xlsx"
    xlsx(path, [["Fabric", "Metres", "Width"], [f"cotton lawn {page.size}, 75 gsm", 2.5, 140], ["zzyzzyx", 1, 140]])
    go(page, "/stash/import")
    page.get_by_label("The list").set_input_files(path)
    page.get_by_role("button", name="Look at it").click()
    expect(page.get_by_label("Metres")).to_have_value("length_m")
    page.get_by_role("button", name="Bring it in").click()
    expect(page.get_by_role("heading", name="1 piece brought in")).to_be_visible()
    expect(page.get_by_text("Row 3")).to_be_visible()
    page.get_by_role("link", name="See the stash").click()
    expect(page.get_by_role("link", name=f"cotton lawn {page.size}")).to_be_visible()


def test_a_guided_test_does_not_lead_to_its_result(page):
    go(page, "/tests?piece=blue+linen")
    page.get_by_role("link", name="Stretch recovery").click()
    page.get_by_role("link", name="Begin").click()
    page.get_by_role("link", name="Next").click()
    page.get_by_role("button", name="Start").click()
    expect(page.get_by_role("timer")).not_to_have_text("1:00")
    page.get_by_role("button", name="Stop").click()
    page.get_by_role("link", name="Next").click()
    page.get_by_role("link", name="What did you see?").click()
    for label, figure in (("rest", "10"), ("stretched", "12"), ("after", "10.2")):
        page.locator(f"input[name^={label}]").fill(figure)
    page.get_by_role("button", name="What does it say?").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("ecovery")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("The result is kept")).to_be_visible()


def test_a_server_that_stops_takes_what_was_typed(browser, knowledge, tmp_path):
    with serving(Desk(knowledge, tmp_path / "stash.db")) as address:
        page = browser.new_page()
        page.goto(f"{address}/stash/new")
        page.get_by_label("The cloth in your own words").fill("wool crepe from the market")
        ask = browser.new_page()
        ask.goto(f"{address}/")
    page.get_by_role("button", name="Put it in").click()
    expect(page.get_by_role("alert").filter(has_text="not answering")).to_be_visible()
    expect(page.get_by_label("The cloth in your own words")).to_have_value("wool crepe from the market")
    ask.get_by_label("Your cloth, and what for").fill(CHALLIS)
    expect(ask.get_by_role("alert").filter(has_text="not answering")).to_be_visible()
    expect(ask.get_by_label("Your cloth, and what for")).to_have_value(CHALLIS)
    page.close()
    ask.close()


def test_without_script_the_answers_are_out_of_reach(browser, home):
    context = browser.new_context(java_script_enabled=False, viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.goto(f"{home}/")
    page.get_by_label("Your cloth, and what for").fill("acetate satin lining")
    page.get_by_role("button", name="Press").click()
    expect(page.locator("#answer")).to_contain_text("110 °C")
    page.locator(".picker > summary").click()
    page.locator(".group > summary", has_text="Closure").click()
    page.get_by_label("covered buttons", exact=True).check()
    page.get_by_role("button", name="Does it suit?").click()
    expect(page.locator("#answer h2").first).to_contain_text("of 100")
    context.close()


def test_a_sheet_to_print_has_another_size_than_it_says(browser, home):
    """A millimetre of the drawing is a millimetre of the page (96 px to the inch), on paper too, and the line is 50 of them."""
    page = browser.new_page()
    page.goto(f"{home}/need/buttons/print?diameter=15&count=9")
    page.emulate_media(media="print")
    wide = page.locator("svg.truesize").first.evaluate("s => s.getBoundingClientRect().width / s.viewBox.baseVal.width * 25.4 / 96")
    assert abs(wide - 1) < 0.005
    line = page.locator("svg.truesize path").first.evaluate("p => p.getBBox().width * p.getScreenCTM().a * 25.4 / 96")
    assert abs(line - 50) < 0.1
    page.close()


LOOKED_AT = [
    "/", f"/check?ask={CHALLIS}", "/check?ask=zzyzzyx for flounce", "/check?ask=wool melton for flounce&feature=gathers", "/press?ask=acetate satin lining",
    "/prewash?ask=linen 185 gsm", "/sew?ask=linen for flounce", "/cloth?ask=linen", "/stash", "/stash/new", "/stash/piece?name=blue linen",
    "/stash/edit?name=blue linen", "/stash/remove?name=blue linen", "/stash/import", "/makes", "/makes/view?name=example/summer-wrap-blouse", "/makes/new",
    "/makes/edit?name=example/summer-wrap-blouse", "/pick?make=example/summer-wrap-blouse&from=stash",
    "/plan?make=example/summer-wrap-blouse&make=example/winter-work-jacket&hours=6&by=2030-01-20", "/need", "/need/buttons?diameter=15&count=9",
    "/need/buttons/print?diameter=15&count=9", "/need/layout?piece=front 72 x 30 cm, cut 2&width=140", "/tests", "/tests/recovery", "/tests/recovery?step=1",
    "/tests/drape-fall?step=4", "/tests/weight/result?mass_g=250&length_m=2&width_cm=140", "/explain", "/explain/flounce", "/explain/viscose-challis",
    "/more", "/nowhere",
]  # fmt: skip


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_page_is_closed_to_a_screen_reader_or_runs_over_a_small_screen(browser, home, scheme):
    """axe finds nothing serious on any page, opened out, at 320 px; nothing runs over the edge; every target is 24 px or more."""
    context = browser.new_context(viewport={"width": 320, "height": 740}, color_scheme=scheme)
    page = context.new_page()
    watch = Watch(page, home)
    watch.expected = {"422", "404"}
    found = []
    for path in LOOKED_AT:
        page.goto(home + path)
        page.evaluate("document.querySelectorAll('details:not(.group)').forEach(d => d.open = true)")
        over = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        if over > 0:
            found.append(f"{path}: {over} px over the edge")
        small = page.evaluate(
            """() => [...document.querySelectorAll('button, summary, input:not([type=hidden]), select, textarea, nav a, .button, .tabs button')]
                .filter(e => e.checkVisibility()).filter(e => { const r = e.getBoundingClientRect(); return r.width < 24 || r.height < 24; })
                .map(e => e.outerHTML.slice(0, 90))"""
        )
        found += [f"{path}: small target {html}" for html in small]
        for violation in Axe().run(page).response["violations"]:
            if violation["impact"] in ("serious", "critical"):
                found.append(f"{path}: {violation['id']}: {[n['html'][:120] for n in violation['nodes']][:3]}")
    context.close()
    assert not found + watch.faults, "\n".join(found + watch.faults)
