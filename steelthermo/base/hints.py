"""Types that the hints of all rooms share."""

from collections.abc import Mapping

import numpy as np

Number = float | np.ndarray  # arguments broadcast together; a result has their common shape
Amounts = Mapping[str, Number]  # kg, mol or % by element, oxide or species
