"""Would the tests notice? Each figure that moves a main result beyond what it is uncertain by, and
each equation of a declared list, is made wrong, one at a time, and what has a published reference
or a law to go by is asked.

A figure is shifted by 3 %, or to the ends of its band where it has one (twice its sigma). In an
equation one term is dropped, or one sign turned. First all published checks are worked out anew;
what they let pass goes to the tests of LAWS, run in this process. Not asked: golden figures, hashes
and sums by hand, which any change moves.

Run: python tests/tools/mutants.py [rows] [equations], some forty minutes; prints a report.
"""

import ast
import contextlib
import csv
import importlib
import inspect
import io
import signal
import sys
import textwrap
import warnings
from contextlib import contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "tools")]

from shifted import figures, forget, shifted

from steelthermo import trust
from steelthermo.base import data_path, registry, rows
from steelthermo.trust import checks, main_results, result

PART = 0.03
PATIENCE_S = 90  # for one mutant
# room: words of the tests whose reference is published or a law, and where they stand
LAWS = {
    "thermo": (
        "janaf or hess or helmholtz or reciprocity or graphite_saturation or zero_solute or hang "
        "or there_and_back or sieverts or published or measured or titanium or assessment or "
        "continuous or print or read or tie or crossing or silicon or 1600_degc or mixing or slope "
        "or eutectic or peritectic or arrest"
    ),
    "slag": (
        "duhem or measured or oxide_slags or equilibrium or without_a_rest or continuous or "
        "read_equations or colder or basic or spread_on or above_500 or published or printed or "
        "small_steps or closes or more_iron or less_carbon or each_parameter"
    ),
    "streams": "measured or reference_slag or close or janaf or published or hess",
    "jet": (
        "table or closed_forms or fluids or formulas or janaf or published or three_ways or "
        "inverse or thrust or split or conserves or solves_its or limits or coolprop or deeper"
    ),
    "charge": (
        "case_ or close or twice or hand or course or shops or free or kept or answer or stays "
        "or published or printed or directions"
    ),
    "blow": "close or law or continuous or balance or limit or element or heat or lance or last",
    "ladle": "close or published or balance or equilibrium or printed or measured or problem",
    "end_point": "published or printed or measured or inverse or law or balance or maker or probe",
    "hot_metal": "close or balance or equilibrium or printed or published or law",
    "trust": "shares or quadrature or exact or linear or sum",
}
# module: functions whose equations are made wrong
EQUATIONS = {
    "thermo.activity": ("_matrices", "activities"),
    "thermo.interactions": ("law", "interaction", "reciprocal"),
    "thermo.solution": ("gamma0", "dissolved_enthalpy", "solution_gibbs"),
    "thermo.equilibria": ("carbon_oxygen_product", "oxygen_with_carbon", "gas_solubility_pct"),
    "thermo.constants": ("log_k",),
    "thermo.order": ("oxygen_potential", "co_pressure_at_tie"),
    "thermo.melting": ("_straight", "liquidus_c", "carbon_saturation_pct"),
    "thermo.iron_carbon": ("_terms", "assessed_carbon_activity", "assessed_carbon_heat_kj_mol"),
    "thermo.reactions": ("balance_of", "oxidation_heat"),
    "slag.regular_solution": ("_energies", "_gibbs", "iron_terms", "ferric_share", "iron_in_slag"),
    "slag.partition_equations": ("with_iron", "linear_partition", "partition"),
    "slag.oxygen": ("by_line", "phosphate_capacity", "sulphide_capacity", "sulphur_partition"),
    "slag.fluxes": ("fluxes_for", "available_lime_pct", "fluxing", "lime_kg_t"),
    "slag.properties": ("viscosity", "density_band", "relative_viscosity", "heat_contents"),
    "slag.end_of_blow": ("transport_share", "bath_activity", "iron_oxide_at", "burning"),
    "streams.slag_heat": ("_terms", "melting", "melting_terms", "together"),
    "jet.nozzle": ("_path", "expand", "choked_mass_flux", "normal_shock"),
    "jet.lance": ("absolute_kpa", "design_head"),
    "jet.cavity": ("_thrust_n", "axis_speed_m_s", "_force_balance_ratio", "penetration", "at_bath"),
    "charge.balance": ("_heat",),
    "charge.oxygen": ("nm3_per_kg", "demand"),
    "charge.off_gas": ("_pcr", "converter_gas", "mouth_pcr", "post_combustion"),
    "end_point.probe": ("reference_log_po2", "_fourth_root_pe", "emf_mv", "oxygen_activity"),
    "end_point.carbon": ("carbon_from_oxygen", "propagate"),
    "ladle.deoxidation": ("deoxidise",),
    "ladle.stirring": ("stirring_power_w_t", "gas_flow_m3_s", "mixing_time"),
    "ladle.temperature": ("heat_capacity_kj_t", "addition_effect_c", "tap_path"),
    "hot_metal.desulphurisation": ("dose", "_react"),
    "trust.shares": ("first_order_shares", "quadrature"),
}


# ---- who notices ---------------------------------------------------------------------------------


def _published():
    """The first published check whose verdict is not the one known, or None."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for check in checks():
            try:
                if not result(check).passes:
                    return check.id
            except Exception as error:  # a mutant may fail in any way, and is noticed by that
                return f"{check.id} ({type(error).__name__})"
    return None


class _First:
    """What failed first in a run of pytest."""

    def __init__(self):
        self.name = None

    def pytest_runtest_logreport(self, report):
        """Keep the first failure."""
        if report.failed and self.name is None:
            self.name = report.nodeid.removeprefix("tests/")


def _by_law(room):
    """The first test of LAWS of a room that fails, or None."""
    first = _First()
    files = [str(ROOT / "tests" / room)]
    said = ["-q", "-x", "-n", "0", "-p", "no:cacheprovider", "-p", "no:warnings", "-k", LAWS[room]]
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        pytest.main([*said, *files], plugins=[first])
    return first.name


def _too_long(*_):
    raise TimeoutError


def noticed_by(rooms):
    """Which published check or test of a law notices what is wrong just now; None: nothing."""
    signal.signal(signal.SIGALRM, _too_long)
    signal.alarm(PATIENCE_S)
    try:
        found = _published()
        for room in rooms:
            found = found or (_by_law(room) if room in LAWS else None)
    except TimeoutError:
        return "does not end"
    finally:
        signal.alarm(0)
    return found


# ---- figures -------------------------------------------------------------------------------------


def matter():
    """(table, row as it names itself, result, size) of the figures that move a main result, shifted
    as here, beyond what it is uncertain by; size: the change over that; the largest first.
    """
    largest = {}
    for key in main_results():
        for move in trust.rests_on(key).moves:
            by_part = PART / 0.1 if move.by.endswith("%") else 1.0
            size = by_part * move.size
            place = (move.table, move.row)
            if size > largest.get(place, ("", 0.0))[1]:
                largest[place] = (key, size)
    found = [(*place, key, size) for place, (key, size) in largest.items() if size > 1.0]
    return sorted(found, key=lambda row: -row[-1])


def _row(table, name):
    key = registry()[table]["key"].split()
    for number, row in enumerate(rows(table)):
        if " ".join(str(row[c]) for c in key if row[c] not in (None, "none")) == name:
            return number, row
    raise LookupError(f"{table}: no row {name!r}")


def shifts(table, name):
    """Changes of a row to try: to the ends of its band, or by PART to either side."""
    number, row = _row(table, name)
    columns = figures(row)
    if columns == ("start",):
        ends = [row[end] for end in ("low", "high") if isinstance(row.get(end), float)]
        return [{number: {"start": end}} for end in ends]
    return [{number: {c: row[c] * (1.0 + part) for c in columns}} for part in (-PART, PART)]


def _rooms_of(table):
    home = next(data_path("tables.csv").parent.glob(f"*/{table}.csv")).parent.name
    return {"base": ("thermo", "slag", "end_point"), "works": ("ladle", "hot_metal")}.get(
        home, (home,)
    )


def figures_tried():
    """(table, row, result, size, who noticed each shift) of every figure that matters."""
    for table, name, key, size in matter():
        found = []
        for change in shifts(table, name):
            with shifted(table, change):
                found.append(noticed_by(_rooms_of(table)))
        yield table, name, key, size, found


# ---- equations -----------------------------------------------------------------------------------


class _Turn(ast.NodeTransformer):
    """The nth sum of a tree changed: how is 'sign', 'left' or 'right' (which term goes)."""

    def __init__(self, nth, how):
        self.nth, self.how, self.seen, self.line = nth, how, -1, None

    def visit_BinOp(self, node):
        """Change the sum that is counted to."""
        self.generic_visit(node)
        if not isinstance(node.op, (ast.Add, ast.Sub)):
            return node
        self.seen += 1
        if self.seen != self.nth:
            return node
        self.line = ast.unparse(node)
        if self.how == "right":
            return node.left
        if self.how == "left":
            return (
                node.right if isinstance(node.op, ast.Add) else ast.UnaryOp(ast.USub(), node.right)
            )
        node.op = ast.Sub() if isinstance(node.op, ast.Add) else ast.Add()
        return node


def _function(module, name):
    found = inspect.unwrap(vars(module)[name])
    return getattr(found, "__wrapped__", found)


def mutants(module_name, name):
    """(what was changed, code) of each mutant of a function."""
    module = importlib.import_module(f"steelthermo.{module_name}")
    function = _function(module, name)
    source = textwrap.dedent(inspect.getsource(function))
    sums = sum(
        isinstance(n, ast.BinOp) and isinstance(n.op, (ast.Add, ast.Sub))
        for n in ast.walk(ast.parse(source))
    )
    for nth in range(sums):
        for how in ("sign", "left", "right"):
            turn = _Turn(nth, how)
            tree = turn.visit(ast.parse(source))
            tree.body[0].decorator_list = []
            space = {}
            code = compile(ast.fix_missing_locations(tree), module.__file__, "exec")
            exec(code, vars(module), space)
            yield f"{how} of {turn.line}", space[name].__code__


@contextmanager
def swapped(module_name, name, code):
    """The kit with another body of a function."""
    function = _function(importlib.import_module(f"steelthermo.{module_name}"), name)
    kept = function.__code__
    function.__code__ = code
    forget()
    try:
        yield
    finally:
        function.__code__ = kept
        forget()


def equations_tried(only=None):
    """(module, function, change, who noticed it) of every mutant of EQUATIONS."""
    for module_name, names in EQUATIONS.items():
        if only and module_name not in only:
            continue
        for name in names:
            for change, code in mutants(module_name, name):
                with swapped(module_name, name, code):
                    yield module_name, name, change, noticed_by((module_name.split(".")[0],))


def main(wanted):
    wanted = wanted or ["rows", "equations"]
    out = csv.writer(sys.stdout, lineterminator="\n", delimiter="|")
    if "rows" in wanted:
        for table, name, key, size, found in figures_tried():
            out.writerow(["row", table, name, f"{size:.1f} x {key}", *found])
            sys.stdout.flush()
    only = [w for w in wanted if "." in w]
    if "equations" in wanted or only:
        for line in equations_tried(only):
            out.writerow(["equation", *line])
            sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1:])
