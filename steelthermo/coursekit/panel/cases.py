"""A case of a panel as one line of text: where its controls stand."""

from collections.abc import Iterable, Mapping

from ...base import InputError
from .controls import quoted


def case_text(panel_name: str, controls: Iterable, settings: Mapping) -> str:
    """A case as one line that a person can read and send.

    Parameters
    ----------
    panel_name : of its Panel
    controls : of the panel
    settings : value by name

    Returns
    -------
    text

    Examples
    --------
    >>> from steelthermo.coursekit.panel import Control
    >>> controls = (Control("hot_c", "Coffee", "°C", 60, 95, 1, 85, "a fresh cup"),)
    >>> case_text("cooling", controls, {"hot_c": 90})
    'cooling: hot_c=90'
    """
    return f"{panel_name}: " + "; ".join(f"{c.name}={c.text(settings[c.name])}" for c in controls)


def read_case(text: str, panel_name: str, controls: Iterable) -> dict:
    """The settings in a line made by case_text().

    Parameters
    ----------
    text : the line; what it leaves out takes its default
    panel_name : of the Panel that asks
    controls : of the panel

    Returns
    -------
    value by name

    Raises
    ------
    InputError

    Examples
    --------
    >>> from steelthermo.coursekit.panel import Control
    >>> controls = (Control("hot_c", "Coffee", "°C", 60, 95, 1, 85, "a fresh cup"),)
    >>> read_case("cooling: hot_c=90", "cooling", controls)
    {'hot_c': 90.0}
    """
    name, colon, rest = text.strip().partition(":")
    if not colon or len(text) > 4000:
        raise InputError(
            f"case: {quoted(text.strip())} was given; a case reads like this: "
            f"{case_text(panel_name, controls, _defaults(controls))}"
        )
    if name.strip() != panel_name:
        raise InputError(
            f"case: it belongs to the panel {quoted(name.strip())}; this is the panel "
            f"{panel_name!r}."
        )
    known = {c.name: c for c in controls}
    settings = _defaults(controls)
    for part in filter(None, (p.strip() for p in rest.split(";"))):
        key, equals, value = (p.strip() for p in part.partition("="))
        if not equals or key not in known:
            raise InputError(
                f"case: {quoted(part)} was given; this panel knows {', '.join(known)}, each with = "
                "and a value."
            )
        settings[key] = known[key].read(value)
    return settings


def _defaults(controls):
    return {c.name: c.default for c in controls}
