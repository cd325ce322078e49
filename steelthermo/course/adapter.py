"""What the course on oxygen steelmaking hands to the kit that teaches it (coursekit)."""

from ..base import data_files
from ..charge import iron_oxides_of
from ..coursekit import CourseAdapter
from ..works import PROFILE_FILE, WORKS, load_profile
from .edition import __version__

# Words that say what is counted, after a unit: '3.2 kg CaO/t steel'. Never those that are units
# themselves (s, h, K, V).
WORDS = frozenset(
    "c si mn p fe o o2 n n2 co co2 cao mgo sio2 p2o5 mno feo fe2o3 al al2o3 mg ti cr ch4 h2 steel "
    "liquid crude tapped hot metal hm pig iron scrap slag lime "
    "dolomite ore scale coke ladle oxygen nitrogen argon gas dust heat charge melt of by mass "
    "weight volume abs absolute dissolved pure".split()
)


def figure(works, path):
    """A figure of a works profile by its path, such as 'vessel.tap_t', as a float; 0 for an element
    that its analysis does not name.
    """
    section, key, *species = path.split(".")
    found = getattr(getattr(works, section), key)
    if found is None:  # left to the law at the end of a blow
        found = round(iron_oxides_of(works)[("feo_pct", "fe2o3_pct").index(key)], 1)
    return float(found.get(species[0], 0.0) if species else found)


def hazard(key):
    """The hazard of a key, as the box of cautions tells it."""
    from ..trust import caution  # a panel that has no box starts without it

    return caution(key)


# The sentence in every caution: what the page is, and who decides.
DEFERRAL = (
    "This page is a calculation and no operating instruction. At a works the site's procedures, "
    "local codes and licensed people decide."
)

# One skill of a lesson each: asked before the course and, with other numbers, after it
PAPER = (
    "charge_materials.kg_of_element",
    "oxidation_heat.mixed_gas",
    "oxygen_demand.carbon",
    "slag_basicity.available_lime",
    "phosphorus_and_sulphur.partition",
    "heat_balance.steel_heat",
    "pretreatment.magnesium",
    "the_blow.gas_flow",
    "end_point.rise",
    "tapping_and_ladle.aluminium",
)

STEEL = CourseAdapter(
    paper=PAPER,
    package=__package__,
    command="steelthermo",
    version=__version__,
    data=data_files,
    words=WORDS,
    works_file=PROFILE_FILE,
    load_works=load_profile,
    home_works=WORKS[0],
    figure=figure,
    example=("oxygen_demand.carbon", "c_pct", 4.2),
    caution=hazard,
    deferral=DEFERRAL,
)
