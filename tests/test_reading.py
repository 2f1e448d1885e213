"""Reading knowledge files: YAML 1.2, refusals, and every problem at once: advisor.reading, compiling and linting."""

from __future__ import annotations

import pytest

from advisor.errors import Unclear
from advisor.knowledge import KnowledgeError, load
from advisor.reading import BadYaml, parse_yaml


@pytest.mark.parametrize(("text", "value"), [
    ("no", "no"), ("yes", "yes"), ("on", "on"), ("off", "off"), ("y", "y"), ("NO", "NO"),
    ("true", True), ("False", False), ("null", None), ("~", None),
    ("010", 10), ("0o10", "0o10"), ("0x1F", "0x1F"), ("1_000", "1_000"), ("12:30", "12:30"), ("2024-01-02", "2024-01-02"),
    ("1.5", 1.5), (".5", 0.5), ("1e3", 1000.0), ("-3", -3), ("+3", 3), ("1.", 1.0),
])  # fmt: skip
def test_scalars_are_those_of_yaml_1_2(text, value):
    read = parse_yaml(f"x: {text}")["x"]
    assert read == value
    assert type(read) is type(value)


def test_a_word_that_old_yaml_took_for_a_truth_value_is_a_word_as_a_key_too():
    assert parse_yaml("no: 1\nyes: 2") == {"no": 1, "yes": 2}


@pytest.mark.parametrize(("text", "what"), [
    ("a: 1\nb: 2\na: 3", "twice"),
    ("a: {b: 1, b: 2}", "twice"),
    ("a: &x 1\nb: *x", "alias"),
    ("a: &x [1]\nb: *x", "alias"),
    ("a: !!python/object/apply:os.system ['true']", "constructor"),
    ("a: !thing 1", "constructor"),
    ("a: [1, 2", ""), ("a: 'b", ""), ("\t- a", ""), ("{a: 1}: 2", ""), ("a: 1\n---\nb: 2", ""),
    ("[" * 100, "nested"), ("x: " + "a" * 4_000_001, "MB"),
])  # fmt: skip
def test_what_is_not_plain_yaml_is_refused(text, what):
    with pytest.raises(BadYaml, match=what or None):
        parse_yaml(text)


def test_the_line_of_a_refusal_is_told():
    with pytest.raises(BadYaml) as caught:
        parse_yaml("a: 1\nb: 2\na: 3\n")
    assert caught.value.line == 3


@pytest.fixture
def own(tmp_path):
    """Writes files into a folder of own knowledge and loads it over the shipped one."""

    def write(**files):
        for name, text in files.items():
            (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
        return load((tmp_path,), cache=False)

    return write


def problems(own, **files):
    with pytest.raises(KnowledgeError) as caught:
        own(**files)
    return [str(p) for p in caught.value.problems]


def test_all_problems_are_told_at_once_with_file_entry_field_and_nearest(knowledge, own):
    found = problems(
        own,
        cloths="""
my-cloth: {names: [my cloth], fibres: {cottin: 100}, structure: plain, weight: [200, 100], source: common practice}
other-cloth: {names: [other cloth], fibres: {cotton: 100}, structure: twil, weihgt: [100, 200], source: common practice}
third-cloth: {names: [third cloth], fibres: {cotton: 100}, structure: plain, weight: [100, 9000], source: no-such-source}
""",
        rules="""
my-rule:
  when: {all: [{wieght: {below: 3}}, {has: pille}]}
  then: {kind: caution, say: "x", do: "y"}
  why: x
  source: common practice
  examples: {fires: ["cotton"], quiet: ["silk"]}
""",
    )

    def one(*parts):
        assert any(all(part in line for part in parts) for line in found), (parts, found)

    one("cloths.yaml", "my-cloth", "fibres", "cottin", "nearest: cotton")
    one("cloths.yaml", "my-cloth", "weight", "low 200 above high 100")
    one("cloths.yaml", "other-cloth", "weihgt")
    one("cloths.yaml", "third-cloth", "no-such-source")
    one("cloths.yaml", "third-cloth", "weight")
    one("rules.yaml", "my-rule", "when", "wieght", "nearest: weight")
    one("rules.yaml", "my-rule", "when", "pille", "nearest: pile")


REST = "why: x, source: common practice, examples: {fires: [a], quiet: [b]}}"

WRONG = [
    ("cloths", "my-cloth: 3", "fields"),
    ("cloths", "- a\n- b", ""),
    ("clots", "x: {names: [x]}", "nearest: cloths"),
    ("cloths", "my-cloth: {names: [x], fibres: {cotton: 30}, structure: plain, source: common practice}", "add up to 100"),
    ("fibres", "my-fibre: {names: [x], groups: [synthetic], heat_limit: 200, facts: {melts_c: 180}, source: common practice}",
     "not below melting"),
    ("features", "my-feature: {names: [my thing], group: seam, source: common practice}", "asks nothing"),
    ("features", "my-feature: {names: [my thing], group: seam, parts: {my-feature: 1}, source: common practice}", "circle"),
    ("rules", "my-rule: {when: {has: pile}, then: {kind: caution, say: x}, " + REST.replace("[b]", "[]"), "examples"),
    ("rules", "my-rule: {when: {cloth: denim}, then: {kind: caution, say: x}, " + REST, "cloth"),
    ("rules", "my-rule: {about: [denim], when: {has: pile}, then: {kind: caution, say: x}, " + REST, "denim"),
    ("cloths", "my-cloth: {names: [x], fibres: {cotton: 100}, structure: plain, weight: 120}", "no source"),
    ("remedies", "my-remedy: {do: x, lifts: {drape: 0.4}, where: {weight: low}, cost: {minutes: 3}, source: common practice}",
     "not one of the properties that this remedy lifts"),
    ("features", "my-feature: {names: [x], group: seam, context: [winterr], demands: [{drape: {curve: {1: 1}, importance: 1, why: x}}], source: common practice}",
     "nearest: winter"),
    ("fibres", "my-fibre: {names: [x], groups: [synthetic], goes_into: [knit-clot], source: common practice}", "nearest: knit-cloth"),
]  # fmt: skip
"""(kind of file, what stands in it, what is said of it)."""


@pytest.fixture(scope="module")
def all_wrong(tmp_path_factory):
    """What is said of a folder in which every entry of `WRONG` has a file of its own."""
    folder = tmp_path_factory.mktemp("wrong")
    for number, (kind, text, _) in enumerate(WRONG):
        (folder / kind).mkdir(exist_ok=True)
        (folder / kind / f"file{number}.yaml").write_text(text.replace("my-", f"my-{number}-"), encoding="utf-8")
    with pytest.raises(KnowledgeError) as caught:
        load((folder,), cache=False)
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize("number", range(len(WRONG)), ids=lambda n: f"{WRONG[n][0]}: {WRONG[n][2] or WRONG[n][1]}")
def test_an_entry_that_cannot_be_right_is_refused_and_hides_no_other(all_wrong, number):
    kind, _, said = WRONG[number]
    mine = [line for line in all_wrong if f"{kind}/file{number}.yaml" in line]
    assert any(said in line for line in mine), (mine, all_wrong)


def test_own_knowledge_adds_replaces_and_silences_and_a_link_out_of_its_folder_is_passed_over(
    knowledge, own, tmp_path, tmp_path_factory
):
    shipped = next(c for c in knowledge.cloths.values() if c.ranges and c.kind == "cloth")
    named = {r for remedy in knowledge.remedies.values() for r in remedy.answers}
    rule, kept = [r for r in knowledge.rules if r not in named][:2]
    outside = tmp_path_factory.mktemp("outside") / "cloths.yaml"
    outside.write_text("evil: 3", encoding="utf-8")
    (tmp_path / "cloths").mkdir()
    (tmp_path / "cloths" / "linked.yaml").symlink_to(outside)
    figures = "fibres: {cotton: 100}, structure: plain, source: common practice"
    mine = own(
        cloths=f"""
my-own-cloth: {{names: [my own cloth], weight: [111, 112], {figures}}}
{shipped.id}: {{names: [{shipped.id}], weight: [7, 8], {figures}}}
""",
        rules=f"{rule}: silenced",
    )
    assert mine.cloths["my-own-cloth"].ranges["weight"].range == (111, 112)
    assert mine.cloths[shipped.id].ranges["weight"].range == (7, 8)
    assert mine.cloths["my-own-cloth"].origin != shipped.origin
    assert rule not in mine.rules
    assert kept in mine.rules
    assert "evil" not in mine.cloths


def test_a_folder_that_is_not_there_is_one_clear_line(tmp_path):
    with pytest.raises(Unclear, match="knowledge folder"):
        load((tmp_path / "nowhere",))


def test_a_spoilt_cache_is_read_anew_and_the_compiled_form_answers_as_the_files_do(knowledge, monkeypatch, tmp_path):
    import msgspec

    from advisor import knowledge as module

    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    files = load(cache=False)
    module._loaded.clear()
    load()
    (path,) = module.cache_folder().glob("*.knowledge")
    module._loaded.clear()
    kept = load()
    path.write_bytes(b"spoilt")
    module._loaded.clear()
    assert set(load().cloths) == set(kept.cloths)
    for kind in ("cloths", "rules", "features", "fibres"):
        assert msgspec.to_builtins(dict(kept.table(kind))) == msgspec.to_builtins(dict(files.table(kind)))
