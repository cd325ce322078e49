"""The end of the blow: dissolved oxygen by the probe, carbon from it or from the arrest, and the
decision to tap.
"""

from .carbon import Estimate, carbon_from_arrest, carbon_from_oxygen, propagate
from .decision import Decision, Rules, decide
from .probe import (
    ELECTROLYTES,
    REFERENCES,
    emf_mv,
    oxygen_activity,
    reference_log_po2,
)
