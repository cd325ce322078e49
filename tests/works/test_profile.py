"""The works profile: the one that ships, every fault a trainer can make in a copy, and where a
profile is found.

The figures of Heron Works are invented; what is checked about them is that they lie in the ranges
of common practice.
"""

import os
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_works import fixed_text

from steelthermo.base import InputError, data_path, rows
from steelthermo.works import profile as plant

TEXT = fixed_text()
NUMBERS = [(row["section"], row["key"], row) for row in rows("profile_schema")]


def _line(key, section):
    """Number of the line of a key in its section, counted here by hand."""
    inside = False
    for number, line in enumerate(TEXT.splitlines(), 1):
        if line.startswith("["):
            inside = line.strip() == f"[{section}]"
        elif inside and line.split("=")[0].strip() == key:
            return number
    raise AssertionError((section, key))


def _with(section, key, value):
    """The profile that ships with another value of one key."""
    lines = TEXT.splitlines()
    lines[_line(key, section) - 1] = f"{key} = {value}"
    return "\n".join(lines)


def _faults(text):
    with pytest.raises(InputError) as error:
        plant.parse_profile(text, "my.toml")
    head, *faults = str(error.value).splitlines()
    assert re.fullmatch(rf"works profile my\.toml: {len(faults)} faults?:", head)
    return [fault.strip() for fault in faults]


# ---- the profile that ships ----------------------------------------------------------------------


def test_heron():
    works = plant.parse_profile(TEXT)
    assert works.name == "Heron Works" and works.vessel.tap_t == 180.0
    assert works.hot_metal.analysis_pct["C"] == 4.5 and "Fe" not in works.hot_metal.analysis_pct
    assert sum(works.oxygen_pct.values()) == pytest.approx(100.0) and works.oxygen_pct["O2"] == 99.5
    assert {m["kind"] for m in works.materials.values()} == set(plant.MATERIAL_KINDS)
    assert "basicity 3.4" in repr(works.slag)


def test_its_figures_are_ordinary():
    """Common practice, no source: 20 to 30 % scrap, CaO/SiO2 above 3, steel at 1650 to 1700 °C,
    oxygen of 99 % or better, 10 to 15 % CO2 at the mouth.
    """
    works = plant.parse_profile(TEXT)
    assert 70 <= works.hot_metal.share_pct <= 80 and works.slag.basicity > 3
    assert (
        1650 <= works.end_point.temp_c <= 1700
        and works.oxygen.purity_pct >= 99
        and 10 <= works.gas.co2_pct <= 15
    )


@pytest.mark.parametrize(
    "section, key, row", NUMBERS, ids=lambda x: x if isinstance(x, str) else ""
)
def test_every_number_lies_in_its_range_with_room_on_both_sides(section, key, row):
    figure = getattr(getattr(plant.load_profile("heron"), section), key)
    assert (figure is None) == (row["left_out"] == "law")
    if figure == row["low"] == 0.0:  # Heron Works does without: what is left out is the same
        assert row["left_out"] == 0.0
        return
    assert figure is None or row["low"] < figure < row["high"]


@pytest.mark.parametrize("works", plant.WORKS)
def test_every_works_that_ships_can_be_read_and_lies_inside_every_range(works):
    profile = plant.load_profile(data_path(f"{works}.toml"))
    needed = {section for section, _, _ in NUMBERS}
    assert profile.name and set(profile.sections) == needed | {"prices"}
    for section, key, row in NUMBERS:
        figure = getattr(getattr(profile, section), key)
        assert figure is None or row["low"] <= figure <= row["high"], (
            works,
            section,
            key,
        )


# ---- every fault of every key --------------------------------------------------------------------


@pytest.mark.parametrize(
    "section, key, row", NUMBERS, ids=lambda x: x if isinstance(x, str) else ""
)
def test_every_fault_of_every_number(section, key, row):
    unit = "" if row["unit"] == "1" else f" {row['unit']}"
    allowed = f"allowed is {row['low']:g} to {row['high']:g}{unit}"
    line = f"line {_line(key, section)}, {section}.{key}: "
    for value, words in (
        (row["low"] - 1, f"{row['low'] - 1:g}{unit} was given; {allowed}"),
        (row["high"] + 1, f"{row['high'] + 1:g}{unit} was given; {allowed}"),
        ("nan", f"nan{unit} was given; {allowed}"),
        ("inf", f"inf{unit} was given; {allowed}"),
        ("-inf", f"-inf{unit} was given; {allowed}"),
        ('"a lot"', f"'a lot' was given; a number is needed, {allowed}"),
        ('"12,5"', f"'12,5' was given; a number is needed, {allowed}"),
        ("true", f"True was given; a number is needed, {allowed}"),
        ("[1, 2]", f"[1, 2] was given; a number is needed, {allowed}"),
        ("{ a = 1 }", f"{{'a': 1}} was given; a number is needed, {allowed}"),
        ("1979-05-27", "datetime.date(1979, 5, 27) was given; a number is needed"),
    ):
        faults = _faults(_with(section, key, value))
        assert any(f.startswith(line + words) for f in faults), faults


@pytest.mark.parametrize(
    "section, key, row", NUMBERS, ids=lambda x: x if isinstance(x, str) else ""
)
def test_a_missing_and_a_misspelt_key(section, key, row):
    lines = TEXT.splitlines()
    number = _line(key, section)
    wrong = key[:-1] + "x"
    lines[number - 1] = lines[number - 1].replace(key, wrong, 1)
    faults = _faults("\n".join(lines))
    missing = any(
        f.endswith(")") and f"{section}: {key} is missing ({row['help']}, {row['low']:g} to" in f
        for f in faults
    )
    assert missing == (row["left_out"] == "refused")
    assert any(
        f.startswith(f"line {number}, {section}.{wrong}: there is no such key; did you mean {key}?")
        for f in faults
    )
    assert len(faults) == 1 + missing


@pytest.mark.parametrize("section", dict.fromkeys(s for s, _, _ in NUMBERS))
def test_a_missing_a_misspelt_and_a_flat_section(section):
    missing = re.sub(rf"\[{section}\][^\[]*(?=\n\[|\n#)", "", TEXT, count=1)
    assert any(
        f.startswith(f"{section}: this section is missing; it needs ") for f in _faults(missing)
    )
    faults = _faults(TEXT.replace(f"[{section}]", f"[{section}x]"))
    number = TEXT.splitlines().index(f"[{section}]") + 1
    assert any(
        f.startswith(
            f"line {number}, {section}x: there is no such section; did you mean {section}?"
        )
        for f in faults
    )
    assert any(f.startswith(f"{section}: this section is missing") for f in faults)
    assert any(
        "this section is missing" in f and section in f
        for f in _faults(f"{section} = 5\n" + missing)
    )


ANALYSES = [
    ("hot_metal", '"C"', "an analysis such as { C = 4.5, Si = 0.4 } in mass % is needed"),
    ("hot_metal", "[4.5]", "an analysis such as"),
    ("hot_metal", "{ C = 4.5, Xx = 0.1 }", "'Xx': no such element in liquid iron"),
    ("hot_metal", "{ C = 4.5, SiO2 = 0.1 }", "'SiO2': no such element in liquid iron"),
    ("hot_metal", "{ C = -4.5 }", "C = -4.5 was given; a share from 0 to 100 % is needed"),
    ("hot_metal", "{ C = nan }", "C = nan was given; a share from 0 to 100 % is needed"),
    ("hot_metal", '{ C = "4,5" }', "C = '4,5' was given"),
    ("hot_metal", "{ C = true }", "C = True was given"),
    ("hot_metal", "{ C = 60, Si = 60 }", "the shares add up to 120 %; allowed is 100 %"),
    ("hot_metal", "{ C = 4.5, Fe = 95.5 }", "Fe stands in the analysis and is also the rest"),
    ("end_point", "{ C = 0.04, S = 0.01 }", "S is no aim"),
    ("end_point", "{ C = 0.04, W = 0.01 }", "'W': no such element in liquid iron"),
    ("materials.lime", "{ MgO = 1, Na2O = 0.1 }", "'Na2O': there are no data for it"),
    ("materials.lime", "{ MgO = 101 }", "MgO = 101 was given; a share from 0 to 100 %"),
    ("materials.lime", "{ MgO = 60, SiO2 = 60 }", "the shares add up to 120 %"),
    ("materials.lime", "{ CaO = 60 }", "CaO stands in the analysis and is also the rest"),
    ("materials.coke", '"carbon"', "an analysis such as"),
]


@pytest.mark.parametrize("section, value, words", ANALYSES)
def test_faults_of_an_analysis(section, value, words):
    faults = _faults(_with(section, "analysis_pct", value))
    line = _line("analysis_pct", section)
    assert any(
        f.startswith(f"line {line}, {section}.analysis_pct: ") and words in f for f in faults
    ), faults


MATERIALS = [
    (
        "materials.lime",
        "kind",
        '"lyme"',
        "'lyme' was given; allowed are scrap, lime, dolomite, coolant, fuel",
    ),
    ("materials.lime", "kind", "3", "3 was given; allowed are scrap"),
    ("materials.lime", "kind", '["lime"]', "['lime'] was given; allowed are scrap"),
    ("materials.lime", "title", "3", "3 was given; a text is needed"),
    (
        "materials.lime",
        "rest",
        '"Lime"',
        "rest = 'Lime' was given; the formula of what takes the rest is needed",
    ),
    ("materials.lime", "rest", "5", "rest = 5 was given"),
    ("materials.lime", "rest", '["CaO"]', "rest = ['CaO'] was given"),
]


@pytest.mark.parametrize("section, key, value, words", MATERIALS)
def test_faults_of_a_material(section, key, value, words):
    assert any(
        words in f and "materials.lime" in f and f.startswith("line ")
        for f in _faults(_with(section, key, value))
    )


def test_more_faults_of_materials():
    head = "[materials.bales]"
    number = TEXT.splitlines().index(head) + 1
    faults = _faults(TEXT.replace(head, f"{head}\ntemp_f = 20\ntemp_c = 1650"))
    assert faults[0].startswith(
        f"line {number + 1}, materials.bales.temp_f: there is no such key; did you mean temp_c?"
    )
    assert faults[1] == (
        f"line {number + 2}, materials.bales.temp_c: 1650 was given; a number is needed, "
        "allowed is -40 to 900 °C"
    )
    no_rest = _with("materials.bales", "rest", '"Fe"').replace(
        'rest = "Fe"\n\n[materials.shredded]', "\n[materials.shredded]"
    )
    assert any("there is no `rest`; 100 % is needed" in f for f in _faults(no_rest))
    assert any(
        "sections such as [materials.lime] are needed" in f
        for f in _faults("materials = 5\n" + TEXT.split("# Materials")[0])
    )
    only = TEXT.split("# Materials")[0]
    kinds = [f for f in _faults(only) if f.startswith("materials: none of kind")]
    assert [re.search("'(.*)'", f)[1] for f in kinds] == ["scrap", "lime", "dolomite"]
    assert any(
        f.endswith("title, kind, analysis_pct and rest is needed")
        for f in _faults(only + "[materials]\nlime = 3\n")
    )


def test_oxygen_must_hold_together():
    faults = _faults(_with("oxygen", "argon_pct", "1.5"))
    assert faults == [
        f"line {_line('argon_pct', 'oxygen')}, oxygen.argon_pct: purity and argon add up to 101 %; "
        "allowed is 100 %"
    ]


def test_all_faults_at_once_in_the_order_of_the_lines():
    """A trainer mends a file once, not fault by fault."""
    text = TEXT
    for old, new in (
        ("tap_t = 180", "tap_t = nan"),
        ("basicity = 3.4", 'basicty = "x"'),
        ("co2_pct = 12", "co2_pct = 1200"),
        ("heat_mj_t = 60", "heat_mj_t = false"),
        ('kind = "fuel"', 'kind = "fule"'),
        ('name = "Heron Works"', "name = 3\nnmae = 4"),
    ):
        assert old in text
        text = text.replace(old, new)
    faults = _faults(text)
    assert len(faults) == 9
    lines = [int(m[1]) for f in faults if (m := re.match(r"line (\d+),", f))]
    assert lines == sorted(lines)
    assert any("nmae: there is no such key; did you mean name?" in f for f in faults)
    assert len(str(faults)) < 3000


@pytest.mark.parametrize(
    "text",
    [
        *[
            "",
            "a = = 3",
            "[vessel",
            '[vessel]\ntap_t = "180',
            "[vessel]\ntap_t = 1\n[vessel]\n",
            "x = 1\nx = 2",
            "tap_t = 12,5",
        ],
        *["\x00", "{}", "works: {}", "[" * 5000, "a = " + "[" * 50000],
    ],
    ids=lambda text: repr(text[:20]),
)
def test_what_is_no_profile(text):
    with pytest.raises(InputError, match="^works profile my.toml: "):
        plant.parse_profile(text, "my.toml")


@given(st.text(max_size=300))
def test_any_text_gives_a_sentence_never_a_crash(text):
    with pytest.raises(InputError):
        plant.parse_profile(text)


@given(st.integers(0, len(TEXT) - 1), st.integers(0, 60), st.text(max_size=5))
def test_a_damaged_profile_gives_a_sentence_or_a_profile(start, length, patch):
    try:
        assert isinstance(
            plant.parse_profile(TEXT[:start] + patch + TEXT[start + length :]), plant.Profile
        )
    except InputError as error:
        assert str(error).startswith("works profile profile: ")


# ---- reading and finding -------------------------------------------------------------------------


@pytest.fixture
def nowhere(tmp_path, monkeypatch):
    """A folder with no profile above it."""
    deep = tmp_path / "a" / "b" / "c" / "d"
    deep.mkdir(parents=True)
    monkeypatch.chdir(deep)
    monkeypatch.delenv("STEELTHERMO_PROFILE", raising=False)
    return deep


@pytest.mark.parametrize(
    "encoding, newline",
    [("utf-8", "\n"), ("utf-8-sig", "\n"), ("utf-8", "\r\n"), ("utf-8-sig", "\r\n")],
)
@pytest.mark.parametrize("name", ["works.toml", "Hütte Süd – Åsfjell 製鋼.toml"])
def test_ways_a_file_may_be_saved(nowhere, encoding, newline, name):
    """With and without byte order mark, Windows line ends, blanks and letters outside ASCII in the
    path and in the text.
    """
    path = nowhere / name
    path.write_text(TEXT.replace("Heron Works", "Værskog Øst"), encoding=encoding, newline=newline)
    works = plant.load_profile(path)
    assert works.name == "Værskog Øst" and works.slag.basicity == 3.4 and works.path == str(path)
    assert plant.load_profile(str(path)).name == works.name


def test_a_byte_order_mark_in_the_text_itself():
    assert plant.parse_profile("\ufeff" + TEXT).name == "Heron Works"


def test_line_numbers_do_not_depend_on_the_line_ends(nowhere):
    path = nowhere / "works.toml"
    path.write_text(_with("slag", "basicity", "50"), encoding="utf-8", newline="\r\n")
    with pytest.raises(
        InputError,
        match=rf"line {_line('basicity', 'slag')}, slag.basicity: 50 was given; allowed is 0.5 to "
        rf"6",
    ):
        plant.load_profile()


def test_order_of_finding(nowhere, monkeypatch):
    """The path given, then the environment variable, then works.toml here or in one of the two
    folders above, then the profile that ships.
    """

    def write(path, name):
        path.write_text(TEXT.replace('"Heron Works"', f'"{name}"'), encoding="utf-8")
        return path

    assert plant.find_profile() is None and plant.load_profile().name == "Heron Works"
    write(nowhere.parents[2] / "works.toml", "three above")
    assert plant.find_profile() is None
    write(nowhere.parents[1] / "works.toml", "two above")
    assert plant.load_profile().name == "two above"
    write(nowhere.parents[0] / "works.toml", "one above")
    assert plant.load_profile().name == "one above"
    write(nowhere / "works.toml", "here")
    assert plant.load_profile().name == "here"
    monkeypatch.setenv("STEELTHERMO_PROFILE", str(write(nowhere / "other.toml", "named")))
    assert plant.load_profile().name == "named"
    assert plant.load_profile(write(nowhere / "third.toml", "given")).name == "given"
    monkeypatch.setenv("STEELTHERMO_PROFILE", "")
    assert plant.load_profile().name == "here"
    monkeypatch.setenv("HOME", str(nowhere))
    monkeypatch.setenv("USERPROFILE", str(nowhere))
    monkeypatch.setenv("STEELTHERMO_PROFILE", os.path.join("~", "other.toml"))
    assert plant.load_profile().name == "named"


def test_an_edited_file_is_read_anew(nowhere):
    path = nowhere / "works.toml"
    path.write_text(TEXT, encoding="utf-8")
    assert (
        plant.load_profile().slag.basicity == 3.4 and plant.load_profile() is plant.load_profile()
    )
    path.write_text(TEXT.replace("basicity = 3.4", "basicity = 3.75"), encoding="utf-8")
    assert plant.load_profile().slag.basicity == 3.75


def test_files_that_cannot_be_read(nowhere, monkeypatch):
    with pytest.raises(
        InputError,
        match=r"works profile .*missing\.toml: it can't be read: there is no such file or folder\.",
    ):
        plant.load_profile("missing.toml")
    with pytest.raises(InputError, match="it can't be read"):
        plant.load_profile(nowhere)
    monkeypatch.setenv("STEELTHERMO_PROFILE", str(nowhere / "gone.toml"))
    with pytest.raises(InputError, match="gone.toml: it can't be read"):
        plant.load_profile()
    latin = nowhere / "latin.toml"
    latin.write_bytes(TEXT.replace("Heron Works", "Hüttengrün").encode("latin-1", errors="replace"))
    with pytest.raises(InputError, match="it is not text in UTF-8; save it with that encoding"):
        plant.load_profile(latin)


def test_attributes_that_are_not_there():
    works = plant.parse_profile(TEXT)
    with pytest.raises(AttributeError, match="has no slags; near it: slag"):
        works.slags
    with pytest.raises(AttributeError, match="has no basicty; near it: basicity"):
        works.slag.basicty
    with pytest.raises(AttributeError, match="slag.basicity can't be set; write it into"):
        works.slag.basicity = 3.0
    with pytest.raises(TypeError):
        works.sections["slag"] = 1
