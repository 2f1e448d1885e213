"""Home tests: from what a scale, a ruler and the eye say to a property with its uncertainty.

The formulas are plain functions of figures. `measure` takes the readings of one test, lets each carry its own
error through the formula, and returns a `SwatchReport` with the phrase that a description may be given. What a
test takes, and every coefficient, stands in `knowledge/lists/swatch.yaml`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

import msgspec

from advisor.errors import Unclear
from advisor.knowledge import Knowledge
from advisor.model import HomeTest, Property
from advisor.ranges import Range
from advisor.reading import BadYaml, parse_yaml
from advisor.words_form import phrase

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s² (3rd General Conference on Weights and Measures, 1901)."""


class Measured(NamedTuple):
    """A figure and the half-width of its uncertainty, in the same unit."""

    value: float
    spread: float = 0.0


# ---- formulas ----


def propagate(formula: Callable[..., float], *figures: Measured) -> Measured:
    """The result of `formula` with the errors of its figures carried through.

    Each figure in turn is moved to both ends of its error; half the change of the result is that figure's
    part, and the parts are added in quadrature, as independent errors are. (The law of propagation in the
    Guide to the Expression of Uncertainty in Measurement, JCGM 100:2008, 5.1.2, from memory.)
    """
    values = [f.value for f in figures]
    total = 0.0
    for place, figure in enumerate(figures):
        if figure.spread:
            ends = [formula(*values[:place], end, *values[place + 1 :])
                    for end in (figure.value - figure.spread, figure.value + figure.spread)]  # fmt: skip
            total += ((ends[1] - ends[0]) / 2) ** 2
    return Measured(formula(*values), math.sqrt(total))


def grammage(mass_g: float, length_m: float, width_m: float) -> float:
    """Weight in g/m²: mass over area (ISO 3801)."""
    return mass_g / (length_m * width_m)


def scrap_side_cm(gsm: float, step_g: float, within_pct: float = 5.0, own_pct: float = 2.0) -> float:
    """Side in cm of a square scrap whose weight in g/m² comes out within `within_pct`.

    `step_g` is the error of the scale in g, `own_pct` what damp air and cutting add in %. The mass needed is
    step / √(within² - own²), since the two are independent.
    """
    mass_g = step_g / (math.sqrt(within_pct**2 - own_pct**2) / 100)
    return 100 * math.sqrt(mass_g / gsm)


def bending_length_mm(overhang_mm: float) -> float:
    """Bending length c in mm of a strip whose tip touches a slope of 41.5°: half its overhang.

    Peirce's reference angle and halving; at 41.5° half the overhang is right to 0.02 % for an ideal strip,
    while his closed formula would give 0.509 (Szablewski and Kobza; Shirley stiffness tester guide).
    """
    return overhang_mm / 2


def flexural_rigidity(gsm: float, c_mm: float) -> float:
    """Bending rigidity per width in µN·m: G = W·c³·g, W in g/m², c in mm.

    (Szablewski and Kobza, equations 7 and 8.) The constant 1.421·10⁻⁵ of ASTM D1388, in place of
    9.80665·10⁻⁶, overstates it 1.45 times and is not used.
    """
    return gsm * c_mm**3 * GRAVITY * 1e-6


def bending_length_of_rigidity(gsm: float, rigidity: float) -> float:
    """Bending length in mm of a cloth of `gsm` g/m² and bending rigidity in µN·m: c = (G / (W·g))^⅓."""
    return math.cbrt(rigidity / (gsm * GRAVITY * 1e-6))


def drape_of_areas(shadow: float, disc: float, cloth: float) -> float:
    """Drape coefficient in %: (shadow - disc) / (cloth - disc), three areas in one unit (BS 5058)."""
    return 100 * (shadow - disc) / (cloth - disc)


def drape_of_widths(shadow_cm: float, disc_cm: float, cloth_cm: float) -> float:
    """Drape coefficient in % from the widths of three rounds; π/4 falls out of the ratio of areas."""
    return drape_of_areas(shadow_cm**2, disc_cm**2, cloth_cm**2)


def drape_of_masses(shadow_g: float, ring_g: float) -> float:
    """Drape coefficient in %: mass of the shadowed part of the paper ring over the whole ring (BS 5058)."""
    return 100 * shadow_g / ring_g


def drape_of_bending(c_cm: float, shear_deg: float, terms: Bending) -> float:
    """Drape coefficient in % from bending length (cm) and the shear angle at buckling (degrees).

    D = one + c·C + c2·C² + a·A + a2·A² (Cusick's regression, J. Textile Institute 56, 1965, coefficients
    from memory; they stand in knowledge/lists/swatch.yaml).
    """
    return terms.one + terms.c * c_cm + terms.c2 * c_cm**2 + terms.a * shear_deg + terms.a2 * shear_deg**2


def stretch(rest: float, stretched: float) -> float:
    """Stretch in %: (stretched - rest) / rest, two lengths in one unit."""
    return 100 * (stretched - rest) / rest


def recovery(rest: float, stretched: float, after: float) -> float:
    """Recovery in %: the part of the stretch that went back, three lengths in one unit."""
    return 100 * (stretched - after) / (stretched - rest)


def layer_mm(stack_mm: float, layers: float) -> float:
    """Thickness of one layer in mm."""
    return stack_mm / layers


def slope_deg(rise: float, board: float) -> float:
    """Angle in degrees of a board whose one end is raised; both lengths in one unit."""
    return math.degrees(math.asin(min(1.0, rise / board)))


def shrinkage(before: float, after: float) -> float:
    """Shrinkage in %, positive = shorter: 100·(before - after) / before.

    ISO 5077 writes the change of dimension, 100·(after - before) / before, which is minus this figure. The
    loss is divided by the length before; dividing by the length after overstates it.
    """
    return 100 * (before - after) / before


def interpolate(curve: Mapping[float, float], x: float) -> float:
    """The curve at `x`: straight lines between its points, flat beyond them."""
    points = sorted(curve.items())
    if x <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


# ---- what the tests take ----


class FigureSpec(msgspec.Struct, forbid_unknown_fields=True):
    """A figure that can be measured at home; `error` is the half-width of one reading."""

    unit: str
    error: float
    possible: Range
    about: str
    scatter: bool = True


class Bending(msgspec.Struct, forbid_unknown_fields=True):
    """Terms of the regression of drape on bending length and shear."""

    one: float
    c: float
    c2: float
    a: float
    a2: float
    shear_deg: Range
    residual: float
    valid_cm: Range
    source: str


class Recipe(msgspec.Struct, forbid_unknown_fields=True):
    """How one test is reckoned; see the head of the file that holds it."""

    formula: str = "reading"
    takes: list[str] = []
    maybe: list[str] = []
    errors: dict[str, float] = {}
    own: float = 0.0
    own_pct: float = 0.0
    curve: dict[float, float] = {}
    phrases: list[str] = []
    note: str = ""
    example: str = "--reading 2"
    source: str = ""


class Recipes(msgspec.Struct, forbid_unknown_fields=True):
    """The whole of lists/swatch.yaml; a later folder adds to it or replaces single entries."""

    figures: dict[str, FigureSpec] = {}
    says: dict[str, str] = {}
    grown: dict[str, str] = {}
    tests: dict[str, Recipe] = {}
    bending: Bending | None = None


def recipes(knowledge: Knowledge) -> Recipes:
    """The recipes of all knowledge folders, laid over each other."""
    found = Recipes()
    for folder in knowledge.folders:
        path = folder / "lists" / "swatch.yaml"
        if path.is_file():
            try:
                here = msgspec.convert(parse_yaml(path.read_text(encoding="utf-8")), Recipes, strict=False)
            except (BadYaml, msgspec.ValidationError, OSError, UnicodeDecodeError) as error:
                raise Unclear(f"'{path}'", f"figures of home tests as in the shipped file ({error})") from None
            found = Recipes(found.figures | here.figures, found.says | here.says, found.grown | here.grown,
                            found.tests | here.tests, here.bending or found.bending)  # fmt: skip
    return found


# ---- reports ----


class Amount(msgspec.Struct):
    """A figure with the half-width of its uncertainty."""

    value: float
    plus_minus: float
    unit: str


class SwatchReport(msgspec.Struct):
    """The result of one home test. `phrase` is what a description may be given; empty where none is safe.

    `saved` names the piece of the stash that it was kept with.
    """

    test: str
    property: str
    unit: str
    value: float
    low: float
    high: float
    plus_minus: float
    says: str
    phrase: str
    working: list[str]
    also: dict[str, Amount]
    notes: list[str]
    safety: str
    source: str
    saved: str = ""


class FigureAsked(msgspec.Struct):
    """A figure that a test takes, as an option of the command."""

    option: str
    unit: str
    about: str
    needed: bool


class ReadingAsked(msgspec.Struct):
    """One of the described stages, by number."""

    number: int
    says: str
    low: float
    high: float


class TestGuide(msgspec.Struct):
    """How a test is made and what to give afterwards."""

    __test__ = False

    test: str
    property: str
    property_name: str
    unit: str
    minutes: float
    needs: list[str]
    how: list[str]
    spread: float
    figures: list[FigureAsked]
    readings: list[ReadingAsked]
    example: str
    safety: str
    about: str
    source: str


class TestRow(msgspec.Struct):
    """One line of the list of tests."""

    __test__ = False

    test: str
    property: str
    property_name: str
    minutes: float
    names: list[str]


class TestList(msgspec.Struct):
    """All home tests."""

    __test__ = False

    tests: list[TestRow]


# ---- choosing a test ----


def find_test(word: str, knowledge: Knowledge) -> HomeTest:
    """The test of this id, name or (if one test alone settles it) property; raises `Unclear` with the nearest."""
    key = phrase(word)
    table: dict[str, str] = {}
    for test in knowledge.tests.values():
        for name in (test.id, *test.names):
            table.setdefault(phrase(name), test.id)
    for test in knowledge.tests.values():
        table.setdefault(phrase(test.property), test.id)
        table.setdefault(phrase(knowledge.properties[test.property].name), test.id)
    if key in table:
        return knowledge.tests[table[key]]
    from rapidfuzz import fuzz, process

    near = process.extractOne(key, list(table), scorer=fuzz.token_sort_ratio) if key else None
    if near and near[1] >= 86:
        return knowledge.tests[table[near[0]]]
    raise Unclear(f"home test '{word[:60]}'", "a test that 'advisor swatch' lists", table[near[0]] if near else "weight")


def list_tests(knowledge: Knowledge) -> TestList:
    """All tests, the quickest of each property first."""
    order = list(knowledge.properties)
    rows = sorted(knowledge.tests.values(), key=lambda t: (order.index(t.property), t.minutes))
    return TestList([TestRow(t.id, t.property, knowledge.properties[t.property].name, t.minutes, t.names) for t in rows])


def option_of(figure: str) -> str:
    return "--" + figure.replace("_", "-")


def guide(test: HomeTest, knowledge: Knowledge) -> TestGuide:
    """How the test is made, and which figures it wants."""
    known, prop = recipes(knowledge), knowledge.properties[test.property]
    recipe = known.tests.get(test.id, Recipe())
    asked = [
        FigureAsked(option_of(name), known.figures[name].unit, known.figures[name].about, name in recipe.takes)
        for name in (*recipe.takes, *recipe.maybe)
    ]
    readings = [ReadingAsked(i, b.says, *b.range) for i, b in enumerate(test.readings, 1)]
    return TestGuide(
        test.id, prop.id, prop.name, prop.unit, test.minutes, test.needs, test.how, test.spread, asked, readings,
        f"advisor swatch {test.id} {recipe.example}", test.safety, test.about, test.source,
    )  # fmt: skip


# ---- measuring ----

Figures = Mapping[str, Measured]


class Outcome(NamedTuple):
    """What a formula gave: the result, the working in words, and what else it tells."""

    result: Measured
    working: list[str]
    also: dict[str, Amount]
    notes: list[str]


def _weight(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del known
    mass, width = given["mass_g"], given["width_cm"]
    length = given.get("length_m") or Measured(given["length_cm"].value / 100, given["length_cm"].spread / 100)
    result = propagate(grammage, mass, length, Measured(width.value / 100, width.spread / 100))
    working = [f"{mass.value:g} g / ({length.value:g} m × {width.value / 100:g} m) = {result.value:.4g} g/m²"]
    notes: list[str] = []
    also: dict[str, Amount] = {}
    whole = math.hypot(result.spread, result.value * recipe.own_pct / 100)
    if whole > 0.05 * result.value and 1 <= result.value <= 3000:
        side = scrap_side_cm(result.value, mass.spread)
        also["side_for_5_pct"] = Amount(round(side, 1), 0, "cm")
        notes.append(f"for 5 % on this scale, weigh a square of at least {side:.0f} cm, or several scraps of that area together")
    return Outcome(result, working, also, notes)


def _bending(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    terms = known.bending
    assert terms is not None
    overhang = given["overhang_mm"]
    c = propagate(bending_length_mm, overhang)
    c = Measured(c.value, math.hypot(c.spread, c.value * recipe.own_pct / 100))
    also = {"bending_length": Amount(round(c.value, 1), round(c.spread, 1), "mm")}
    working = [f"bending length = {overhang.value:.4g} mm / 2 = {c.value:.4g} mm"]
    if "gsm" in given:
        rigidity = propagate(flexural_rigidity, given["gsm"], c)
        also["bending_rigidity"] = Amount(round(rigidity.value, 2), round(rigidity.spread, 2), "µN·m")
        working.append(f"bending rigidity = {given['gsm'].value:g} g/m² × ({c.value:.4g} mm)³ × g = {rigidity.value:.3g} µN·m")
    if not terms.valid_cm.low <= c.value / 10 <= terms.valid_cm.high:
        beyond = "too limp or too stiff a strip to tell the drape by; use drape-shadow"
        return Outcome(Measured(math.nan), working, also, [beyond])
    ends = [drape_of_bending(c.value / 10, angle, terms) for angle in terms.shear_deg]
    middle = (ends[0] + ends[1]) / 2
    slope = abs(drape_of_bending((c.value + c.spread) / 10, terms.shear_deg.high, terms) - ends[1])
    spread = math.hypot(math.hypot(abs(ends[0] - ends[1]) / 2, slope), terms.residual)
    working.append(f"drape about {middle:.0f} % by the regression on bending length")
    return Outcome(Measured(middle, spread), working, also, [])


def _shadow(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del recipe, known
    by_mass, by_width = {"shadow_g", "ring_g"} <= set(given), {"shadow_cm", "disc_cm", "cloth_cm"} <= set(given)
    if by_mass == by_width:
        raise Unclear("figures for 'drape-shadow'", "either --shadow-cm, --disc-cm and --cloth-cm, or --shadow-g and --ring-g")
    notes = []
    if by_mass:
        result = propagate(drape_of_masses, given["shadow_g"], given["ring_g"])
        working = [f"{given['shadow_g'].value:g} g / {given['ring_g'].value:g} g = {result.value:.3g} %"]
    else:
        shadow, disc, cloth = (given[k] for k in ("shadow_cm", "disc_cm", "cloth_cm"))
        if not disc.value < cloth.value:
            raise Unclear(f"a plate of {disc.value:g} cm under cloth of {cloth.value:g} cm", "a plate smaller than the cloth",
                          f"--disc-cm {cloth.value:g} --cloth-cm {disc.value:g} if the two were swapped")  # fmt: skip
        if shadow.value > cloth.value * 1.02 or shadow.value < disc.value * 0.98:
            near = f"--shadow-cm {2 * shadow.value:.4g} if it was measured from the middle" if shadow.value < disc.value else ""
            span = f"a width between the plate's {disc.value:g} and the cloth's {cloth.value:g} cm"
            raise Unclear(f"a shadow of {shadow.value:.4g} cm", span, near)
        result = propagate(drape_of_widths, shadow, disc, cloth)
        working = [f"({shadow.value:.4g}² - {disc.value:g}²) / ({cloth.value:g}² - {disc.value:g}²) = {result.value:.3g} %"]
        if abs(cloth.value - 30) > 1 or abs(disc.value - 18) > 1:
            notes.append("the usual round is 30 cm on an 18 cm plate; figures from other sizes do not compare")
        elif result.value < 30:
            notes.append("limp cloths are told apart better with a round of 24 cm, but that figure compares only with its like")
    return Outcome(result, working, {}, notes)


def _stretch(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del recipe, known
    rest, long = given["rest_cm"], given["stretched_cm"]
    if long.value < rest.value - rest.spread:
        raise Unclear(f"{rest.value:g} cm stretched to {long.value:g} cm", "the stretched length the greater",
                      f"--rest-cm {long.value:g} --stretched-cm {rest.value:g} if the two were swapped")  # fmt: skip
    result = propagate(stretch, rest, long)
    return Outcome(result, [f"({long.value:g} - {rest.value:g}) / {rest.value:g} = {result.value:.3g} %"], {}, [])


def _recovery(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del recipe, known
    rest, long, after = (given[k] for k in ("rest_cm", "stretched_cm", "after_cm"))
    pull = long.value - rest.value
    if pull < 1:
        near = f"--rest-cm {long.value:g} --stretched-cm {rest.value:g} if the two were swapped" if pull < -0.9 else ""
        raise Unclear(f"recovery from a stretch of {pull:.3g} cm", "a stretch of at least 1 cm; less and the ruler decides", near)
    if not rest.value - 0.2 <= after.value <= long.value:
        near = f"--after-cm {rest.value + after.value:g} if the growth alone was meant" if after.value < pull else ""
        span = f"a length between {rest.value:g} cm at rest and {long.value:g} cm stretched"
        raise Unclear(f"{after.value:g} cm after letting go", span, near)
    result = propagate(recovery, rest, long, after)
    shown = f"({long.value:g} - {after.value:g}) / ({long.value:g} - {rest.value:g}) = {result.value:.3g} %"
    return Outcome(result, [shown], {}, [])


def _thickness(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del recipe, known
    stack, layers = given["stack_mm"], given["layers"]
    result = propagate(layer_mm, stack, layers)
    notes = []
    if result.spread > 0.1 * result.value:
        notes.append(f"a higher stack is surer: {math.ceil(stack.spread / (0.1 * result.value))} layers or more for 10 %")
    return Outcome(result, [f"{stack.value:g} mm / {layers.value:g} layers = {result.value:.3g} mm"], {}, notes)


def _graded(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del known
    (name,) = recipe.takes
    result = propagate(lambda x: interpolate(recipe.curve, x), given[name])
    return Outcome(result, [f"{given[name].value:g} mm reads as grade {result.value:.2g} of 5"], {}, [])


def _tilt(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del known
    rise, board = given["rise_cm"], given["board_cm"]
    if rise.value > board.value:
        raise Unclear(f"an end raised {rise.value:g} cm on a board of {board.value:g} cm", "a rise no greater than the board",
                      f"--rise-cm {board.value:g} --board-cm {rise.value:g} if the two were swapped")  # fmt: skip
    angle = propagate(slope_deg, rise, board)
    result = propagate(lambda x: interpolate(recipe.curve, x), angle)
    also = {"angle": Amount(round(angle.value, 1), round(angle.spread, 1), "°")}
    if angle.value < 80:
        friction = propagate(lambda x: math.tan(math.radians(x)), angle)
        also["friction"] = Amount(round(friction.value, 2), round(friction.spread, 2), "ratio")
    return Outcome(result, [f"it slides at {angle.value:.0f}°, which reads as grade {result.value:.2g} of 5"], also, [])


def _shrinkage(given: Figures, recipe: Recipe, known: Recipes) -> Outcome:
    del recipe, known
    before, after = given["before_cm"], given["after_cm"]
    result = propagate(shrinkage, before, after)
    change = -result.value + 0.0
    word = "shorter" if result.value > 0 else "longer"
    working = [
        f"({before.value:g} - {after.value:g}) / {before.value:g} = {result.value:.3g} %",
        f"{abs(result.value):.1f} cm {word} in every metre; the standards write this as a change of {change:+.1f} %",
    ]
    notes = []
    if result.value < -0.5:
        notes.append(f"measured longer afterwards: if the two figures were swapped it lost {-100 * result.value / (100 - result.value):.1f} % instead, so look again which is which")
    if result.value > 0.5:
        notes.append(f"to have 1 m afterwards, start with {1 / (1 - min(result.value, 90) / 100):.3f} m")
    if before.value < 20:
        notes.append(f"1 mm on {before.value:g} cm is already {10 / before.value:.1f} %; longer marks show more")
    return Outcome(result, working, {"dimensional_change": Amount(round(change, 1), round(result.spread, 1), "%")}, notes)


FORMULAS: dict[str, Callable[[Figures, Recipe, Recipes], Outcome]] = {
    "weight": _weight, "bending": _bending, "shadow": _shadow, "stretch": _stretch, "recovery": _recovery,
    "thickness": _thickness, "graded": _graded, "tilt": _tilt, "shrinkage": _shrinkage,
}  # fmt: skip
"""Formula named in a recipe → the function that reckons it."""

_SLIPS = {
    "g": ((1000, "kilograms"), (28.349523125, "ounces"), (0.001, "milligrams")),
    "m": ((0.01, "centimetres"), (0.001, "millimetres"), (0.9144, "yards"), (0.0254, "inches")),
    "cm": ((100, "metres"), (0.1, "millimetres"), (2.54, "inches")),
    "mm": ((10, "centimetres"), (25.4, "inches"), (1000, "metres")),
}
"""Unit of a figure → factors by which it is off when another unit was read, exact by definition."""

_UNITS = {
    "g": {"g": 1.0, "kg": 1000.0, "oz": 28.349523125, "lb": 453.59237},
    "m": {
        "m": 1.0, "cm": 0.01, "mm": 0.001, "yd": 0.9144, "yds": 0.9144, "yard": 0.9144, "yards": 0.9144, "ft": 0.3048,
        "in": 0.0254, '"': 0.0254,
    },
    "cm": {"cm": 1.0, "mm": 0.1, "m": 100.0, "in": 2.54, '"': 2.54, "yd": 91.44},
    "mm": {"mm": 1.0, "cm": 10.0, "in": 25.4, '"': 25.4},
    "g/m²": {"gsm": 1.0, "g/m²": 1.0, "g/m2": 1.0, "oz/yd²": 33.9057, "oz/yd2": 33.9057, "oz": 33.9057},
    "layers": {"layers": 1.0, "layer": 1.0},
}
"""Unit of a figure → units that may be written behind it, as factors (the yard of 0.9144 m, the pound of 453.59237 g)."""


def quantity(text: str, figure: str, spec: FigureSpec) -> float:
    """A number, or a number with a unit, in the unit of the figure; raises `Unclear` for anything else."""
    match = re.fullmatch(r'\s*(\d+(?:[.,]\d+)?|[.,]\d+)\s*([a-zA-Z/²2"]*)\s*', text)
    units = _UNITS.get(spec.unit, {})
    if not match or (match.group(2) and match.group(2).lower() not in units):
        allowed = ", ".join(units) or spec.unit
        raise Unclear(f"{option_of(figure)} '{text[:40]}'", f"a figure above nought in {spec.unit}, or with its unit ({allowed})")
    return float(match.group(1).replace(",", ".")) * (units[match.group(2).lower()] if match.group(2) else 1.0)


def _take(name: str, values: Sequence[float], spec: FigureSpec, recipe: Recipe) -> Measured:
    """Repeated readings as one: their mean, with their scatter where that is larger than the error of one.

    Where they differ by nature (a shadow's width through folds and hollows) the root mean square is taken,
    since areas count, and the scatter is not an error.
    """
    error = recipe.errors.get(name, spec.error)
    if not spec.scatter:
        return Measured(math.sqrt(sum(v * v for v in values) / len(values)), error)
    mean = sum(values) / len(values)
    scatter = (max(values) - min(values)) / 2 if len(values) > 1 else 0.0
    return Measured(mean, max(error, scatter))


def _in_range(name: str, value: float, spec: FigureSpec) -> None:
    low, high = spec.possible
    if low <= value <= high:
        return
    meant = [
        f"{option_of(name)} {value * factor:.4g} if {unit} were meant"
        for factor, unit in _SLIPS.get(spec.unit, ()) if low <= value * factor <= high
    ]  # fmt: skip
    raise Unclear(f"{option_of(name)} {value:g}", f"{low:g} to {high:g} {spec.unit}", " or ".join(meant[:2]))


def _meant(given: Figures, recipe: Recipe, known: Recipes, prop: Property) -> str:
    """Which single slip of a unit, or which swap of two figures, would make the result possible, the likeliest first."""
    found: list[tuple[float, str]] = []

    def put(figures: Figures, said: str) -> None:
        try:
            value = FORMULAS[recipe.formula](figures, recipe, known).result.value
        except (Unclear, ArithmeticError, ValueError):
            return
        if prop.domain.low <= value <= prop.domain.high:
            off = max(prop.assumed.low - value, value - prop.assumed.high, 0.0)
            found.append((off, said))

    names = list(given)
    for at, one in enumerate(names):
        for other in names[at + 1 :]:
            if known.figures[one].unit == known.figures[other].unit:
                swapped = {**given, one: given[other], other: given[one]}
                said = " ".join(f"{option_of(name)} {swapped[name].value:g}" for name in (one, other))
                put(swapped, f"{said} if the two were swapped")
    for name in names:
        for factor, unit in _SLIPS.get(known.figures[name].unit, ()):
            value = given[name].value * factor
            if known.figures[name].possible.low <= value <= known.figures[name].possible.high:
                said = f"{option_of(name)} {value:.4g} if {unit} were meant"
                put({**given, name: Measured(value, given[name].spread)}, said)
    return " or ".join(said for _, said in sorted(found, key=lambda f: f[0])[:2])


def _takes_it(name: str, test: HomeTest, known: Recipes) -> str:
    """A test of the same property that does take this figure, as a command."""
    same = [t for t, r in known.tests.items() if name in (*r.takes, *r.maybe) and t.split("-")[0] == test.id.split("-")[0]]
    return f"advisor swatch {same[0]} {known.tests[same[0]].example}" if same else ""


def _take_all(test: HomeTest, given: Mapping[str, Sequence[float]], recipe: Recipe, known: Recipes) -> dict[str, Measured]:
    """The figures of a test, each checked by itself; a scale's step becomes the error of what was weighed on it."""
    wanted = (*recipe.takes, *recipe.maybe)
    options = ", ".join(option_of(name) for name in wanted) or "--reading"
    for name in given:
        if name not in wanted:
            other = _takes_it(name, test, known)
            raise Unclear(f"{option_of(name)} for '{test.id}'", options, other)
    missing = [name for name in recipe.takes if name not in given]
    if missing:
        said = ", ".join(option_of(name) for name in missing)
        raise Unclear(f"'{test.id}' without {said}", f"{options} together", f"advisor swatch {test.id} {recipe.example}")
    for name, values in given.items():
        for value in values:
            _in_range(name, value, known.figures[name])
    taken = {name: _take(name, values, known.figures[name], recipe) for name, values in given.items()}
    scale = taken.pop("scale_g", None)
    if scale:
        for name in ("mass_g", "ring_g", "shadow_g"):
            if name in taken:
                taken[name] = Measured(taken[name].value, scale.value)
    return taken


def _rounded(value: float, decimals: int) -> float:
    rounded = round(value, decimals)
    return int(rounded) if decimals == 0 else rounded


def around(value: Range, decimals: int) -> tuple[float, float]:
    """(middle, half-width) rounded to `decimals` so that the whole range is still covered."""
    middle = round(value.mid, decimals)
    half = max(value.high - middle, middle - value.low, 0.0)
    step = 10.0**-decimals
    return _rounded(middle, decimals), _rounded(max(math.ceil(half / step - 1e-9), 1) * step, decimals)


def words_for(value: Range, prop: Property) -> str:
    """The trade word that the range stands for, or the first and last of several."""
    if value.high < 0:
        return "the other way: it grew"
    hits = []
    for word, band in prop.bands.items():
        both = band.within(value)
        if both and both.width >= 0.34 * min(band.width, value.width):
            hits.append(word)
    if not hits:
        hits = [min(prop.bands, key=lambda w: abs(prop.bands[w].mid - value.mid))]
    return hits[0] if len(hits) == 1 else f"{hits[0]} to {hits[-1]}"


def phrase_for(value: Range, prop: Property, says: Mapping[str, str], grown: Mapping[str, str]) -> str:
    """How a description says the measured range, so that `advisor.words.describe` reads it back.

    Where the property takes no figure in a description its trade word stands instead. A range below nought (a cloth
    that grew in the wash) is written by its phrase in `grown`, since a description takes no negative figure.
    """
    inside = value.clamp(prop.domain)
    if prop.id not in says:
        return f"measured: {_band_of(inside, prop)} {prop.name}"
    form, domain = says[prop.id], prop.domain
    if inside.mid < 0 and prop.id in grown:
        form, inside, domain = grown[prop.id], Range(-inside.high, -inside.low), Range(-domain.high, -domain.low)
    for decimals in range(prop.decimals, prop.decimals + 3):
        middle, half = around(inside, decimals)
        if domain.low <= round(middle - half, 6) and round(middle + half, 6) <= domain.high:
            break
    return f"measured: {form.format(f'{middle:g}±{half:g}')}"


def _band_of(value: Range, prop: Property) -> str:
    """The trade word whose range shares most with `value`."""
    def shared(band: str) -> float:
        both = prop.bands[band].within(value)
        return (both.width + 1e-9) / (prop.bands[band].width + value.width + 1e-9) if both else 0.0
    return max(prop.bands, key=shared)


def read_stage(test: HomeTest, reading: str) -> int:
    """Which described stage was meant, from 0: by its number or by its words."""
    if not test.readings:
        raise Unclear(f"--reading for '{test.id}'", "figures, as 'advisor swatch " + test.id + "' shows")
    said = reading.strip()
    stages = "; ".join(f"{n} {b.says}" for n, b in enumerate(test.readings, 1))
    expected = f"1 to {len(test.readings)}, or the words of one stage ({stages})"
    if re.fullmatch(r"\d+", said):
        if not 1 <= int(said) <= len(test.readings):
            raise Unclear(f"--reading {said[:20]}", expected)
        return int(said) - 1
    from rapidfuzz import fuzz, process

    found = process.extract(phrase(said), [phrase(b.says) for b in test.readings], scorer=fuzz.token_set_ratio, limit=2)
    if not said or not found or found[0][1] < 72 or (len(found) > 1 and found[0][1] - found[1][1] < 4):
        raise Unclear(f"--reading '{said[:60]}'", expected)  # the nearest spelling may say the opposite
    return int(found[0][2])


def measure(
    test: HomeTest, knowledge: Knowledge, figures: Mapping[str, Sequence[float]] | None = None, reading: str = ""
) -> SwatchReport:
    """The result of a test from its figures (each in the unit of its name) or from a described stage.

    Raises `Unclear` for figures that the test does not take, that are missing, or that cannot be; for those
    the nearest names what may have been meant.
    """
    known, prop = recipes(knowledge), knowledge.properties[test.property]
    recipe = known.tests.get(test.id, Recipe())
    figures = {name: list(values) for name, values in (figures or {}).items() if values}
    if figures and reading:
        raise Unclear(f"figures and --reading for '{test.id}'", "one of the two")
    if reading:
        stage = read_stage(test, reading)
        band = test.readings[stage]
        result, working = band.range, [band.says]
        also: dict[str, Amount] = {}
        notes: list[str] = []
        said = _stage_phrase(stage, result, prop, recipe, known)
    else:
        if recipe.formula not in FORMULAS:
            raise Unclear(f"figures for '{test.id}'", "--reading with the number of a stage")
        taken = _take_all(test, figures, recipe, known)
        try:
            outcome = FORMULAS[recipe.formula](taken, recipe, known)
        except ArithmeticError:
            raise Unclear(f"figures for '{test.id}'", "figures above nought") from None
        working, also, notes = outcome.working, outcome.also, list(outcome.notes)
        value = outcome.result.value
        if math.isnan(value):
            return SwatchReport(test.id, prop.id, prop.unit, 0, prop.domain.low, prop.domain.high, 0, "not settled", "", working,
                                also, notes, test.safety, test.source)  # fmt: skip
        spread = math.hypot(math.hypot(outcome.result.spread, recipe.own), abs(value) * recipe.own_pct / 100)
        whole = Range(value - spread, value + spread)
        if not prop.domain.meets(whole):
            shown = f"{value:.3g} {prop.unit}"
            raise Unclear(f"{prop.name} {shown} from these figures", f"{prop.domain.low:g} to {prop.domain.high:g} {prop.unit}",
                          _meant(taken, recipe, known, prop))  # fmt: skip
        result = whole.clamp(prop.domain)
        said = "" if recipe.phrases else phrase_for(result, prop, known.says, known.grown)
    if recipe.note:
        notes.append(recipe.note)
    middle, half = around(result, prop.decimals)
    return SwatchReport(
        test.id, prop.id, prop.unit, middle, _rounded(result.low, prop.decimals), _rounded(result.high, prop.decimals), half,
        words_for(result, prop), said, working, also, notes, test.safety, test.source,
    )  # fmt: skip


def _stage_phrase(stage: int, result: Range, prop: Property, recipe: Recipe, known: Recipes) -> str:
    if recipe.phrases:
        said = recipe.phrases[stage] if stage < len(recipe.phrases) else ""
        return f"measured: {said}" if said else ""
    return phrase_for(result, prop, known.says, known.grown)
