"""What every floor stands on, and what knows no steelmaking: errors, numbers and arrays, tables of
data, formulas and molar masses, units.
"""

from . import language  # first: the sentences of all other modules may ask it for their words
from .arguments import check_all, checked, fits
from .elements import (
    atomic_weight,
    formula,
    mass_fractions,
    mass_to_mole_pct,
    molar_mass,
)
from .errors import (
    ExtrapolationWarning,
    InputError,
    between,
    extrapolated,
    finite,
    nearest,
    one_of,
    positive,
    quietly,
    shown,
    warn,
)
from .files import data_files, data_path, rows, why_not
from .hints import Amounts, Number
from .html import Html, escape, figure, minus, plus_minus, table
from .language import LANGUAGE, in_another_language, po_text, read_po, translated
from .limits import Range, beyond, gate, ranges, say
from .linear import Linear, add_up, linear_solve
from .numerics import (
    OF_ARRAYS,
    OF_NUMBERS,
    common_shape,
    find_root,
    fixed_point,
    plain,
    root_from_values,
    warn_where,
)
from .record import Record, near, public, short, told
from .rewording import has_words, texts_of_module
from .spreadsheet import number_in, table_of, text_of, unit_in
from .statuses import STATUSES, VERIFIED, row_names, weakest
from .tables import (
    Parameter,
    Provenance,
    Source,
    Table,
    bibliography,
    constant,
    registry,
    row_provenance,
    sources,
    value,
    worst,
)
from .units import (
    celsius,
    convert,
    kelvin,
    mol_to_nm3,
    molar_volume_nm3_kmol,
    nm3_to_mol,
    quantity_of,
    rising_gas_w,
    units_of,
)

check_all(__name__, globals())
