"""What a learner meets in a notebook: records that show themselves shortly, names that are there,
and an answer to where a number comes from.
"""

import dataclasses
import doctest
import importlib
import inspect
import re
import time
import warnings
from itertools import product
from zlib import crc32

import hostile
import numpy as np
import pytest

import steelthermo as st
from steelthermo import blow, charge, end_point, heats, hot_metal, ladle, streams, thermo, works

HERON = works.load_profile("heron")
HEAT = charge.solve(HERON).for_tap(180.0)
STEEL = ladle.with_oxygen(HEAT.steel, 600.0)
HOT = streams.LiquidMetal(1000.0, {"C": 4.5, "Si": 0.4, "Mn": 0.3, "P": 0.08, "S": 0.03}, 1350.0)
DESULPHURISED = hot_metal.desulphurise(HOT, {"magnesium": 0.5})
RULES = {"aim_temp_c": 1660, "aim_carbon_pct": 0.04, "steel_t": 180, "flow_nm3_min": 460}
RECORDS = {
    "charge": HEAT,
    "charges": charge.solve(HERON, end_temp_c=np.array([1640.0, 1660.0])),
    "plan": charge.plan_of(HERON),
    "blow": blow.solve(HEAT, HERON, step_min=0.5),
    "ladle stage": ladle.treat(STEEL, {"aluminium": 300.0, "silicomanganese": 1500.0}, loss_c=40.0),
    "desulphurisation": DESULPHURISED,
    "oxidation": hot_metal.oxidise(HOT, {"Si": 0.15}, basicity=2.0),
    "comparison": hot_metal.compare(HOT, DESULPHURISED, steel_s_max_pct=0.02, works=HERON),
    "gas": HEAT.gas,
    "no gas": streams.Gas({"CO": 0.0}, 25.0),
    "slag": HEAT.slag,
    "steel": HEAT.steel,
    "scrap": HEAT.scrap,
    "lime": HEAT.lime.material,
    "dust": HEAT.dust,
    "lining": HEAT.lining,
    "alloy": ladle.alloy("silicomanganese"),
    "reagent": hot_metal.reagent("magnesium"),
    "works": HERON,
    **{f"works.{name}": section for name, section in HERON.sections.items()},
    "activities": thermo.activities({"C": 0.1, "Mn": 0.3, "O": 0.02}, 1873.15),
    "decision": end_point.decide(1645.0, 0.08, **RULES),
    "rules": end_point.Rules(**RULES),
    "treatment": ladle.Treatment(),
    "oxidation, how": hot_metal.Oxidation(basicity=2.0),
    "deoxidised": ladle.deoxidise({"Fe": 1000.0, "O": 0.5, "Al": 1.0}, 1873.15),
}
ALL = pytest.mark.parametrize("name", RECORDS)


@ALL
def test_every_name_that_tab_offers_can_be_got(name):
    record = RECORDS[name]
    for attribute in dir(record):
        getattr(record, attribute)


@ALL
def test_text_and_table_are_short(name):
    text, page = repr(RECORDS[name]), RECORDS[name]._repr_html_()
    lines = text.splitlines()
    assert 0 < len(lines) <= 10 and max(map(len, lines)) <= 100
    assert page.startswith("<table>") and len(page.splitlines()) <= 12
    assert page.count("<tr>") == page.count("</tr>") >= 2 and "object at 0x" not in text + page


@ALL
def test_every_record_says_where_it_comes_from(name):
    found = st.sources(RECORDS[name])
    assert isinstance(found, tuple)
    numbers_alone = ("works.prices", "rules", "treatment", "oxidation, how", "deoxidised")
    assert found or name in numbers_alone


@ALL
def test_a_wrong_name_is_told_with_those_near_it(name):
    known = next(n for n in dir(RECORDS[name]) if not n.startswith("_"))
    with pytest.raises(AttributeError, match=f"has no {known}x; near it: .*{known}"):
        getattr(RECORDS[name], f"{known}x")


def test_tab_shows_what_flows_and_the_sections_of_a_works():
    assert {"steel", "slag", "scrap", "oxygen", "hot_metal", "lime"} <= set(dir(HEAT))
    assert {"hot_metal", "slag", "oxygen", "losses"} <= set(dir(HERON))
    assert {"temp_c", "share_pct", "analysis_pct"} <= set(dir(HERON.hot_metal))
    with pytest.raises(AttributeError, match="Charge has no stel; near it: steel"):
        HEAT.stel


STREAMS = {n: s for n, s in {**HEAT.inputs, **HEAT.outputs}.items()}


@pytest.mark.parametrize("name", STREAMS)
def test_every_stream_scales_and_warms(name):
    stream = STREAMS[name]
    twice = stream.scaled(2.0)
    assert twice.mass_kg == pytest.approx(2.0 * stream.mass_kg)
    assert twice.enthalpy_kj() == pytest.approx(2.0 * stream.enthalpy_kj())
    assert sum(stream.element_kg().values()) == pytest.approx(stream.mass_kg, rel=1e-9)
    warmer = stream.at(stream.temp_c + 20.0)
    assert warmer.temp_c == stream.temp_c + 20.0 and warmer.mass_kg == stream.mass_kg
    assert stream.mass_kg == 0.0 or warmer.enthalpy_kj() > stream.enthalpy_kj()
    assert type(twice) is type(warmer) is type(stream)


@pytest.mark.parametrize("name", ["charge", "ladle stage", "desulphurisation", "oxidation"])
def test_a_stage_scales_and_still_closes(name):
    stage, twice = RECORDS[name], RECORDS[name].scaled(2.0)
    assert max(abs(x) for x in twice.closure().values()) < 1e-9
    assert twice.heat_loss_kj == pytest.approx(2.0 * stage.heat_loss_kj)
    assert twice.temp_c == stage.temp_c and type(twice) is type(stage)


def test_a_blow_cannot_be_scaled():
    with pytest.raises(st.base.InputError, match="scale its charge"):
        RECORDS["blow"].scaled(2.0)


# --- what a folder of physics offers says types and units -----------------------------------------

ROOMS = [room for room in st._ROOMS if room != "course"]
HEADS = "|".join(("Parameters", "Returns", "Raises", "Warns", "References", "Examples"))
NOT_YET = ()  # "room.name" of what does not say it yet


def offered(kind):
    """{"room.name": what} of the functions or classes that a room offers as its own."""
    return {
        f"{room}.{name}": what
        for room in ROOMS
        for name, what in vars(getattr(st, room)).items()
        if kind(inspect.unwrap(what))
        and not name.startswith("_")
        and what.__module__.startswith(f"steelthermo.{room}")
    }


FUNCTIONS, CLASSES = offered(inspect.isfunction), offered(inspect.isclass)


def unhinted(function):
    """Names of a function's parameters without a type, and 'return'."""
    signature = inspect.signature(function)
    given = [*signature.parameters.values()]
    out = [p.name for p in given if p.annotation is p.empty and p.name not in ("self", "cls")]
    return out + ["return"] * (signature.return_annotation is signature.empty)


def sections(what):
    """{head: text} of a docstring in the style of numpydoc; under "" what comes first."""
    parts = re.split(rf"^({HEADS})\n-+\n", inspect.getdoc(what) or "", flags=re.M)
    return dict(zip(["", *parts[1::2]], parts[::2], strict=True))


def members(cls):
    """(name, function) of the public methods and properties that a class itself has."""
    for name, what in vars(cls).items():
        what = getattr(what, "__func__", None) or getattr(what, "fget", None) or what
        what = getattr(what, "func", what)
        if inspect.isfunction(what) and not name.startswith("_"):
            yield name, what


def faults(function):
    said, given = sections(function), inspect.signature(function).parameters
    out = [f"no type of {name}" for name in unhinted(function)]
    named = re.findall(r"^([*\w, {}]+?)(?: :.*)?$", said.get("Parameters", ""), flags=re.M)
    named = {name.strip(" *") for names in named for name in names.split(",")}
    out += [f"Parameters leave out {name}" for name in given if name not in named]
    gives = inspect.signature(function).return_annotation is not None
    out += [f"no {head}" for head in ["Returns"] * gives + ["Examples"] if not said.get(head)]
    return out + ["no example"] * (">>>" not in said.get("Examples", ""))


def test_the_faults_of_a_function_are_found():
    def bare(a, b: float):
        """Nothing."""

    assert faults(bare) == [
        "no type of a",
        "no type of return",
        "Parameters leave out a",
        "Parameters leave out b",
        "no Returns",
        "no Examples",
        "no example",
    ]


def test_every_function_says_types_parameters_result_and_an_example():
    found = {name: faults(function) for name, function in FUNCTIONS.items()}
    assert len(found) > 200
    assert {n: f for n, f in found.items() if f and n not in NOT_YET} == {}
    assert [name for name in NOT_YET if not found.get(name)] == []


CALLED = ["course"] + [
    f"coursekit{part}" for part in ("", ".answers", ".panel", ".panel.style", ".problems", ".sheet")
]


@pytest.mark.parametrize("folder", CALLED)
def test_what_lessons_and_contributors_call_says_the_same(folder):
    """Of the engine what a course is made with, and what its sheets are kept and marked by; what a
    command takes is told by its --help.
    """
    offers = vars(importlib.import_module(f"steelthermo.{folder}")).items()
    found = {
        name: faults(inspect.unwrap(what))
        for name, what in offers
        if inspect.isfunction(inspect.unwrap(what))
        and not name.startswith("_")
        and not name.endswith("_command")
        and what.__module__.startswith(f"steelthermo.{folder}")
    }
    assert found and {name: f for name, f in found.items() if f} == {}


def test_every_method_says_types_and_what_it_is():
    found = {
        f"{name}.{method}": unhinted(function) + ["words"] * (not inspect.getdoc(function))
        for name, cls in CLASSES.items()
        for method, function in members(cls)
    }
    assert {n: f for n, f in found.items() if f and n.rpartition(".")[0] not in NOT_YET} == {}


def test_every_field_of_a_record_has_a_type_and_every_record_says_what_it_is():
    for name, cls in CLASSES.items():
        assert inspect.getdoc(cls), name
        fields = getattr(cls, "__dataclass_fields__", {}).values()
        assert [f.name for f in fields if f.type in (object, "object")] == [], name


# --- whatever the kit returns or takes shows itself, and says where it comes from -----------------

ALONE = {  # records of numbers that were given, or that follow from them alone
    "thermo.Term",
    "slag.Fluxing",
    "jet.LanceHead",
    "jet.LancePattern",
    "jet.Shock",
    "blow.Addition",
    "blow.Comparison",
    "blow.Measured",
    "end_point.Estimate",
    "end_point.Rules",
    "heats.Account",
    "heats.Alarm",
    "heats.Calibration",
    "heats.Compared",
    "heats.Interval",
    "heats.Opened",
    "heats.SetAside",
    "hot_metal.Oxidation",
    "ladle.Line",
    "ladle.Step",
    "ladle.Treatment",
    "trust.Band",
    "trust.Effect",
}
NO_RECORD = {  # bases, errors, and what is no record
    "base.ExtrapolationWarning",
    "base.Html",
    "base.InputError",
    "base.Linear",
    "base.Range",
    "base.Record",
    "base.Table",
    "streams.Stream",
    "thermo.Phase",
}


def met():
    """({class: object} of what the examples of all functions take and return, and of its parts;
    {"room.name": (arguments, arguments by name, seconds)} of a call of each function).
    """
    out, calls = {}, {}

    def keep(x, deep=3):
        if type(x).__module__.startswith("steelthermo"):
            out.setdefault(type(x), x)
        inside = getattr(x, "values", None)
        if dataclasses.is_dataclass(x) and not isinstance(x, type):
            parts = [getattr(x, f.name) for f in dataclasses.fields(x)]
        else:
            parts = x if isinstance(x, tuple | list) else inside() if callable(inside) else ()
        for part in [*parts][:20] if deep else ():
            keep(part, deep - 1)

    def kept(name, function):
        def call(*given, **named):
            start = time.perf_counter()
            result = function(*given, **named)
            calls.setdefault(name, (given, named, time.perf_counter() - start))
            keep([*given, *named.values(), result])
            return result

        return call

    for name, function in FUNCTIONS.items():
        own = inspect.unwrap(function)
        for test in doctest.DocTestFinder(recurse=False).find(own, module=inspect.getmodule(own)):
            test.globs[own.__name__] = kept(name, function)
            doctest.DocTestRunner(verbose=False).run(test, out=lambda text: None, clear_globs=False)
    keep(heats.SetAside("17", 18, "no tap temperature"))
    steel = ladle.specification("EN 10025-2", "S355J2", thickness_mm=20)
    for record in (*RECORDS.values(), steel.check({"C": 0.2})):
        keep(record)
    return out, calls


@pytest.fixture(scope="module")
def examples():
    return met()


@pytest.fixture(scope="module")
def kit(examples):
    return examples[0]


def test_the_examples_meet_every_record(kit):
    missing = {name for name, cls in CLASSES.items() if cls not in kit} - NO_RECORD
    assert missing == set()


def test_whatever_is_met_shows_itself_shortly_and_knows_its_sources(kit):
    for name, cls in CLASSES.items():
        if name in NO_RECORD:
            continue
        record = kit[cls]
        lines, page = repr(record).splitlines(), record._repr_html_()
        assert 0 < len(lines) <= 12 and max(map(len, lines)) <= 100, name
        assert page.startswith("<table>") and page.count("<tr>") <= 12, name
        assert "object at 0x" not in repr(record) + page, name
        found = st.sources(record)
        assert all(isinstance(p, st.base.Provenance) for p in found), name
        assert bool(found) is (name not in ALONE), name


def test_sources_answers_rows_phases_and_what_holds_them():
    row = st.base.constant("gas_constant")
    assert [p.source.key for p in st.sources(row)] == [row["source"]]
    iron = thermo.substance("Fe")
    assert st.sources(iron.phases[0])[0] in st.sources(iron)
    assert set(st.sources({"steel": HEAT.steel, "of": [HEAT.gas]})) == {
        *st.sources(HEAT.steel),
        *st.sources(HEAT.gas),
    }
    for bare in (3.0, np.array([1.0]), None, thermo.enthalpy, thermo.Reaction):
        with pytest.raises(st.base.InputError, match="sources: .* was given"):
            st.sources(bare)


# --- what is given by mistake ends in an InputError -----------------------------------------------

NO_SURFACE = {  # of base alone: they serve programs, and answer for no argument
    "base.check_all",
    "base.checked",
}
UNCHECKED = re.compile(r"\bunchecked\b|no checks", re.I)  # for integrators: NaN goes through
SAYS_NAN = {  # what they are given they give back
    "base.linear_solve",
    "base.plain",
    "base.row_provenance",
    "blow.parse",
    "blow.runge_kutta",
    "heats.parse",
    "streams.blend",
    "streams.element_kg",
    "thermo.missing_pairs",
}
SLOW_OPTIONS = {"blow.band", "blow.fit", "ladle.meet"}  # those of blow.solve and ladle.treat
_QUICK_S = 0.005  # an example that takes longer waits for the long test
_EVERY = 6  # of so many things given by mistake the daily test tries one for each argument


def wrong(cases, every):
    """Faults of calls with one argument replaced: of "name(argument): what was given"."""
    out = []
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for (name, call, given, named, argument, nan), what in product(cases, hostile.HOSTILE):
            if crc32(f"{name} {argument} {what}".encode()) % every:
                continue
            quick = name not in SLOW_OPTIONS
            for a, b in hostile.spoilt(call, given, named, argument, hostile.HOSTILE[what], quick):
                if said := hostile.fault(call, a, b, nan):
                    out.append(f"{name}({argument}): {what}: {said}")
    return out


def of_functions(calls, slowest_s):
    for name, (given, named, seconds) in calls.items():
        call = FUNCTIONS[name]
        if name not in NO_SURFACE and seconds < slowest_s:
            nan = name in SAYS_NAN or bool(UNCHECKED.search(inspect.getdoc(call)))
            for argument in inspect.signature(call).parameters:
                yield name, call, given, named, argument, nan


def of_records(kit):
    """Constructors of records, from the fields of one that was met, and methods."""
    for name, cls in CLASSES.items():
        if name in NO_RECORD:
            continue
        if dataclasses.is_dataclass(cls):
            named = {f.name: getattr(kit[cls], f.name) for f in dataclasses.fields(cls) if f.init}
            for argument in named:
                yield name, cls, (), named, argument, True
        for method, _ in members(cls):
            if inspect.isfunction(vars(cls)[method]):
                yield f"{name}.{method}", getattr(kit[cls], method), None, {}, "all", True


def test_a_fault_of_an_argument_is_found():
    def bare(x, y=1.0):
        return x * y

    one = [("bare", bare, (2.0,), {}, "x", False)]
    found = wrong(one, 1)
    assert "bare(x): None: TypeError: unsupported operand type(s)" in " ".join(found)
    assert "bare(x): nan: no finite result" in found

    def hinted(x: float, y: float = 1.0) -> float:
        return x * y

    assert wrong([("hinted", st.base.checked(hinted), *one[0][2:])], 1) == [
        "hinted(x): array with nan: no finite result"  # no check of its own
    ]


def test_a_number_is_a_plain_one_and_a_pair_is_asked_for_as_one():
    for number in (st.slag.transport_share(0.25, 0.5), thermo.log_k("C-O", 1873.15)):
        assert type(number) is float
    steel = streams.LiquidMetal(180e3, {"C": 0.04, "O": 0.06}, 1650.0)
    with pytest.raises(st.base.InputError, match=r"Al: 0.03 was given; a pair such as"):
        ladle.meet(steel, {"Al": 0.03}, ["aluminium"])


def test_what_is_given_by_mistake_ends_in_a_sentence(examples, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)  # for those that write a file
    kit, calls = examples
    assert set(FUNCTIONS) - set(calls) <= {"base.warn", "blow.tuned_band"}  # no call in an example
    assert wrong(of_functions(calls, _QUICK_S), _EVERY) == []
    assert wrong(of_records(kit), _EVERY) == []


@pytest.mark.long
def test_every_thing_given_by_mistake_ends_in_a_sentence(examples, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    kit, calls = examples
    assert wrong(of_functions(calls, np.inf), 1) == []
    assert wrong(of_records(kit), 1) == []
