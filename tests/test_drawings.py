"""The drawings of features for the page: plain strokes that anybody's browser can show, each of something that is known."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parent.parent / "advisor/page/static/features"
DRAWINGS = sorted(FOLDER.glob("*.svg"))
NAMESPACE = "{http://www.w3.org/2000/svg}"
ATTRIBUTES = {"viewBox", "fill", "stroke", "stroke-linecap", "stroke-linejoin", "stroke-width", "stroke-dasharray", "d"}
MOST_BYTES = 4_000

MOST_ASKED = re.findall(
    r"\S+",
    """
flounce gathers ruffles knife-pleats box-pleats sunray-pleats pintucks french-seam flat-felled-seam plain-seam bound-seam
overlocked-seam topstitching narrow-rolled-hem turned-hem narrow-hem faced-hem bound-edge raw-edge v-neck bias-v-neck
cowl-neck wrap-front round-neck-faced boat-neck off-shoulder set-in-sleeve raglan-sleeve dolman-sleeve puff-sleeve
bishop-sleeve bell-sleeve flutter-sleeve shirt-collar tailored-collar stand-collar tie-collar buttonholes rouleau-loops
covered-buttons zip invisible-zip snaps lacing-eyelets drawstring darts princess-seams godets peplum patch-pocket
welt-pocket in-seam-pocket fusible-interfacing lining underlining boning shirt blouse t-shirt circle-skirt pencil-skirt
gathered-skirt pleated-skirt tailored-trousers wide-trousers jeans leggings tailored-jacket coat shift-dress tea-dress
slip-dress evening-gown nightdress pyjamas swimsuit apron cape
""",
)


def groups(knowledge) -> set[str]:
    return {f"group-{f.group.replace(' ', '-')}" for f in knowledge.features.values()}


@pytest.mark.parametrize("path", DRAWINGS, ids=lambda p: p.stem)
def test_a_drawing_is_broken_or_more_than_strokes(path):
    text = path.read_text(encoding="utf-8")
    root = ET.fromstring(text)
    assert root.tag == f"{NAMESPACE}svg" and root.get("viewBox") == "0 0 64 64"
    assert root.get("fill") == "none" and root.get("stroke") == "currentColor"
    assert len(root) > 0 and len(text) < MOST_BYTES
    for element in root.iter():
        assert element is root or element.tag == f"{NAMESPACE}path", element.tag
        assert set(element.attrib) <= ATTRIBUTES, element.attrib.keys()
        assert element is root or "fill" not in element.attrib
        assert not (element.text or "").strip()


@pytest.mark.parametrize("path", DRAWINGS, ids=lambda p: p.stem)
def test_a_drawing_reaches_outside_or_runs_over_its_box(path):
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"script|href|url\(|style|<!|<\?|on\w+=|@", text)
    assert text.count("http") == 1, "only the namespace is an address"
    for d in re.findall(r' d="([^"]*)"', text):
        x = y = 0.0
        for command, rest in re.findall(r"([A-Za-z])([^A-Za-z]*)", d):
            assert command in "MLHVCQZ", f"{command}: only absolute lines and curves are drawn"
            numbers = [float(n) for n in re.findall(r"-?\d*\.?\d+", rest)]
            assert len(numbers) % {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "Z": 1}[command] == 0
            if command == "H":
                x = numbers[-1]
            elif command == "V":
                y = numbers[-1]
            elif numbers:
                x, y = numbers[-2:]
            assert 0 <= x <= 64 and 0 <= y <= 64, (path.stem, x, y)


def test_a_drawing_is_of_nothing_that_is_known(knowledge):
    assert [p.stem for p in DRAWINGS if p.stem not in knowledge.features and p.stem not in groups(knowledge)] == []


def test_a_group_of_features_has_no_drawing(knowledge):
    assert groups(knowledge) - {p.stem for p in DRAWINGS} == set()


def test_one_of_the_most_asked_features_has_no_drawing_of_its_own():
    assert set(MOST_ASKED) - {p.stem for p in DRAWINGS} == set()


def test_two_features_have_the_same_drawing():
    seen: dict[str, str] = {}
    for path in DRAWINGS:
        twin = seen.setdefault(path.read_text(encoding="utf-8"), path.stem)
        assert twin == path.stem, f"{path.stem} is drawn as {twin} is"
