"""Slips that many problems share, ready to be named in a problem's record:
slip.forgot('purity_pct', 100, 'the purity of the oxygen').

Each returns a Slip whose wrong value is found by recomputing, never typed in.
"""

import math

from ...base import molar_mass, value
from .problem import Slip


def celsius_for_kelvin(name):
    """The temperature given in °C put into the formula as if it were kelvin."""
    return Slip(
        f"celsius_for_kelvin_{name}",
        f"You put {{{name}}} into the formula as it stands; the formula wants kelvin, so add "
        "273.15.",
        change=lambda given: given | {name: given[name] - value("celsius_zero_k")},
    )


def kelvin_for_celsius(name):
    """273.15 added to a temperature that the sum wants in °C."""
    return Slip(
        f"kelvin_for_celsius_{name}",
        f"You turned {{{name}}} into kelvin, but this sum is in degrees Celsius.",
        change=lambda given: given | {name: given[name] + value("celsius_zero_k")},
    )


def forgot(name, neutral, what):
    """A given left out: it is set to the value at which it has no effect (0 kg of scrap, 100 %
    purity). what: its name in the sentence.
    """
    return Slip(
        f"forgot_{name}",
        f"You left out {what}: {{{name}}}.",
        change=lambda given: given | {name: neutral + 0.0 * given[name]},
    )


def fraction_for_percent(name, what):
    """A value in % used as if it were a fraction."""
    sentence = f"{what} is given in %: divide it by 100 before you multiply."
    return Slip(
        f"fraction_for_percent_{name}",
        sentence,
        change=lambda given: given | {name: 100.0 * given[name]},
    )


def swapped(first, second, sentence):
    """Two given quantities exchanged."""
    return Slip(
        f"swapped_{first}_{second}",
        sentence,
        change=lambda given: given | {first: given[second], second: given[first]},
    )


def oxide_for_element(name, oxide, element, atoms=1):
    """The % of an oxide taken where that of its element is meant (name holds the element's %), or
    so many atoms of it per formula.
    """
    factor = molar_mass(oxide) / (atoms * molar_mass(element))
    sentence = (
        f"You worked with the mass of {oxide}, but {{{name}}} is the mass of {element} alone."
    )
    return Slip(
        f"{oxide}_for_{element}",
        sentence,
        change=lambda given: given | {name: given[name] * factor},
    )


def one_for_another(key, sentence, name, factor):
    """A given multiplied by a factor: a number, or a function of the given dict (total for
    available lime, mole % for mass %).
    """
    return Slip(
        key,
        sentence,
        change=lambda given: (
            given | {name: given[name] * (factor(given) if callable(factor) else factor)}
        ),
    )


def times(key, sentence, factor):
    """The right answer multiplied by a factor: a number, or a function of the given dict."""
    return Slip(
        key,
        sentence,
        after=lambda answer, given: answer * (factor(given) if callable(factor) else factor),
    )


def wrong_sign(sentence="The size is right, the sign is not: heat given off is counted negative."):
    """The sign of the answer turned round."""
    return Slip("wrong_sign", sentence, after=lambda answer, given: -answer)


def upside_down(sentence):
    """The answer turned upside down: 1 divided by it."""
    return Slip("upside_down", sentence, after=lambda answer, given: 1.0 / answer)


def natural_for_common_log():
    """ln taken where log10 is meant, in an answer that is proportional to the logarithm."""
    return times(
        "natural_for_common_log",
        "You took the natural logarithm, ln; here log means log10. They differ by the factor "
        "2.303.",
        math.log(10.0),
    )


def common_for_natural_log():
    """log10 taken where ln is meant, in an answer that is proportional to the logarithm."""
    return times(
        "common_for_natural_log",
        "You took log10; the formula has the natural logarithm, ln. They differ by the factor "
        "2.303.",
        1.0 / math.log(10.0),
    )


def actual_for_normal_volume(name):
    """The volume at the temperature `name` (°C) given where Nm3 is asked."""
    zero = value("celsius_zero_k")
    return times(
        "actual_for_normal_volume",
        f"This is the volume the gas has at {{{name}}}; an Nm3 is counted at 0 °C and 101.325 kPa, "
        "whatever the gas is at.",
        lambda given: (given[name] + zero) / zero,
    )


def per_other_tonne(key, sentence, asked, used):
    """The answer per tonne of the wrong thing (hot metal for steel). asked, used: functions of the
    given dict that return the tonnes.
    """
    return times(key, sentence, lambda given: asked(given) / used(given))
