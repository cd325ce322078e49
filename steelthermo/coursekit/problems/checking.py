"""Checking an answer: four states in words, the mistake found by recomputing, and for an unknown
one its direction only.
"""

import math
from dataclasses import dataclass, replace
from functools import cache

from ...base import InputError, convert, quantity_of, units_of
from ..answers import STATES, AnswerError, clip, number_text, quantity_text, read, read_choice, say
from .draws import Draw
from .mistakes import mistake_text, mistakes
from .problem import Answer

DONE = ("right", "right_rounded")


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the checker makes of one answer.

    state: 'not_attempted', 'right', 'right_rounded' or 'wrong' (words in words.STATES); sentences:
    what to tell the learner, first the verdict; slips: keys of the slips that fit, 'unit', 'sign',
    'decimal' and 'line_3' (the number of a wrong line as declared in the problem, the same for a
    whole class) included; readable: False if the text could not be read, which is no attempt;
    choice, number: what was read, number in the answer's unit.
    """

    state: str
    sentences: tuple
    slips: tuple = ()
    readable: bool = True
    choice: int | None = None
    number: float | None = None

    @property
    def done(self):
        """True for both kinds of right."""
        return self.state in DONE

    @property
    def word(self):
        """The state in words."""
        return STATES[self.state]


def check(draw: Draw, text: object, direction: bool = True) -> Verdict:
    """Check what a learner typed; never raises for any text.

    Parameters
    ----------
    draw : Draw of the learner
    text : as typed
    direction : tell of an unknown mistake whether it is too high or too low. Told again and again
        it leads to any number without a calculation

    Returns
    -------
    Verdict

    Examples
    --------
    >>> from steelthermo.coursekit.problems import Answer, Given, Problem
    >>> cups = Problem(
    ...     "tea.cups", "Cups", "What do {n} cups of 0.2 kg hold?",
    ...     (Given("n", "cups", "1", 3, 9, 1, "made up"),),
    ...     lambda n: 0.2 * n, ("Multiply.",), "{n:n} × 0.2 = {answer}",
    ...     Answer("kg", "a product", tolerance_pct=1.0),
    ... )
    >>> from steelthermo.coursekit.problems import draw
    >>> one = draw(cups, "Ada")
    >>> check(one, "1400 g").state, check(one, "1.4").done, check(one, "14 kg").slips
    ('right', True, ('decimal',))
    """
    verdict = _check(draw, text, direction)
    if verdict.done and draw.problem.beyond:
        told = say("verdict.beyond", text=draw.text(draw.problem.beyond))
        return replace(verdict, sentences=(*verdict.sentences, told))
    return verdict


def _check(draw, text, direction):
    problem, answer = draw.problem, draw.problem.number
    try:
        if draw.choice is None:
            return _number(draw, text, None, direction)
        line_text, number_typed = text, ""
        if answer is not None:
            line_text, semicolon, number_typed = (
                text.partition(";")
                if isinstance(text, str) and len(text) <= 200
                else (text, ";", "")
            )
            if (
                isinstance(line_text, str)
                and line_text.strip()
                and not (semicolon and number_typed.strip())
            ):
                raise AnswerError("choice_number", example=f"1; {example(answer)}")
        line = read_choice(line_text, len(problem.choice.options))
        verdict = _line(draw, line)
        if answer is None:
            return verdict
        number = _number(draw, number_typed, line, direction)
    except AnswerError as error:
        sentence = (
            str(error)
            if error.kind in ("none", "none_chosen")
            else f"{error} {say('read.not_counted')}"
        )
        return Verdict("not_attempted", (sentence,), readable=False)
    if line != draw.choice:
        slips = tuple(key for key in number.slips if key in draw.slips)
        named = tuple(s for s in number.sentences if s in {_sentence(draw, key) for key in slips})
        named = (say("wrong.number_right"),) if number.done else named
        return replace(
            verdict,
            sentences=(*verdict.sentences, *named),
            slips=(*verdict.slips, *slips),
            number=number.number,
        )
    if not number.done:
        return replace(
            number,
            sentences=(number.sentences[0], say("wrong.choice_right"), *number.sentences[1:]),
            choice=line,
        )
    return replace(number, sentences=(*number.sentences, *verdict.sentences[1:]), choice=line)


def example(answer: Answer | None) -> str:
    """An answer in the right form but of no meaning, to show how one is typed.

    Parameters
    ----------
    answer : Answer of the problem; None for a bare choice

    Returns
    -------
    text

    Examples
    --------
    >>> example(None)
    '12.5'
    """
    return "12.5" if answer is None or answer.unit == "1" else f"12.5 {answer.unit}"


def _sentence(draw, key):
    slip = next(s for s in draw.problem.slips if s.key == key)
    return draw.text(slip.sentence)


def _line(draw, line):
    """Verdict on a chosen line alone."""
    sentence = draw.text(draw.problem.choice.sentences[line - 1])
    if line == draw.choice:
        return Verdict("right", (say("verdict.right"), sentence), choice=line)
    return Verdict(
        "wrong",
        (say("verdict.wrong"), sentence),
        (f"line_{draw.problem.choice.declared(line)}",),
        choice=line,
    )


@cache
def _units(answer):
    """Units that fit an answer: its own first, then all of the same quantity, then those it accepts
    besides.
    """
    return (
        answer.unit,
        *(u for u in units_of(quantity_of(answer.unit)) if u != answer.unit),
        *answer.accept_units,
    )


def _in_answer_unit(draw, number, unit):
    """A number of some unit in the answer's unit; None if the unit measures something else or the
    number makes no sense in it.
    """
    answer = draw.problem.number
    if unit in answer.accept_units:
        factor = answer.accept_units[unit]
        return number * float(factor(**draw.given) if callable(factor) else factor)
    if unit is None or unit == answer.unit:
        return number
    if quantity_of(unit) != quantity_of(answer.unit):
        return None
    if answer.difference:
        return number * (convert(1.0, unit, answer.unit) - convert(0.0, unit, answer.unit))
    try:
        return convert(number, unit, answer.unit)
    except InputError:  # below absolute zero
        return None


def _number(draw, text, line, direction):
    """Verdict on a number as typed. Raises AnswerError."""
    answer, right = draw.problem.number, draw.number
    reading = read(text, _units(answer), example(answer))

    def close(x, aim):
        return x is not None and abs(x - aim) <= answer.tolerance(aim)

    values = [_in_answer_unit(draw, x, reading.unit) for x in reading.values]
    for k, value in enumerate(values):
        if not close(value, right):
            continue
        # '9.204' or '9.204 kJ/kg' where 9204 kJ/kg is right: MJ/kg is likelier than a point that
        # separates thousands
        likelier = replace(reading, values=reading.values[:1])
        if not (k and "." in reading.text and _wrong_unit(draw, likelier, close)):
            exact = abs(value - right) <= answer.tolerance(right) / 4.0
            exact = exact or _rounds_to(value, right, reading.digits[k])
            told = say(
                "verdict.right" if exact else "verdict.right_rounded", answer=answer.show(right)
            )
            state = "right" if exact else "right_rounded"
            return Verdict(state, (told, *_read_as(reading, k)), number=float(value))
    unit = _wrong_unit(draw, reading, close)
    return _wrong(draw, reading, values, unit, close, line, direction)


def _rounds_to(value, right, digits):
    """True if value is right, rounded to the digits written, three at least."""
    return (
        digits >= 3
        and right != 0.0
        and abs(value - right) <= 0.5 * 10.0 ** (math.floor(math.log10(abs(right))) + 1 - digits)
    )


def _wrong_unit(draw, reading, close):
    """The sentence for a right number in a wrong unit, or None."""
    answer = draw.problem.number
    for x in reading.values:
        found = [
            u
            for u in _units(answer)
            if u != reading.unit and close(_in_answer_unit(draw, x, u), draw.number)
        ]
        if reading.unit is None:
            found = [u for u in found if u != answer.unit]
            if found:
                name = say("unit.fraction") if {"1", "kg/kg"} & set(found) else found[0]
                return say(
                    "wrong.unit_missing",
                    number=number_text(x, 6),
                    found=name,
                    wanted=_unit_name(answer.unit),
                )
        elif found:
            normal = answer.unit.startswith("Nm3") and reading.unit == answer.unit[1:]
            return say(
                "wrong.unit_normal" if normal else "wrong.unit_other",
                found=_unit_name(found[0]),
                given=_unit_name(reading.unit),
            )
    return None


def _unit_name(unit):
    return say("unit.none") if unit == "1" else unit


def _wrong(draw, reading, values, unit, close, line, direction):
    """Verdict on a number that is not right: unit, named slips, sign, decimal point, else direction
    and order of magnitude.
    """
    answer, right = draw.problem.number, draw.number
    sentences, slips = ([unit], ["unit"]) if unit else ([], [])
    used = values[0]
    for key, (wrong_line, wrong) in draw.slips.items():
        hit = next((v for v in values if close(v, wrong)), None)
        if hit is not None and (wrong_line is None or wrong_line == line):
            slips.append(key)
            sentences.append(_sentence(draw, key))
            used = hit
    if not slips:
        for key, changed in (("sign", lambda v: -v), ("decimal", lambda v: _scaled(v, right))):
            if any(v is not None and close(changed(v), right) for v in values):
                slips, sentences = [key], [say(f"wrong.{key}")]
                break
    if not slips and (key := _step_mistaken(draw, values, reading.digits)):
        slips, sentences = [key], [mistake_text(draw.problem, key, draw.given)]
    if len(slips) - bool(unit) > 1:  # a unit and a slip are one mistake, told from both sides
        sentences.insert(0, say("wrong.two_slips"))
    if not slips:
        if used is None and quantity_of(reading.unit) == quantity_of(answer.unit):
            sentences = [say("wrong.impossible", given=reading.unit)]
        elif used is None:
            asked = (
                say("unit.none")
                if answer.unit == "1"
                else say("unit.asked", quantity=quantity_of(answer.unit), unit=answer.unit)
            )
            sentences = [
                say(
                    "wrong.quantity",
                    given=reading.unit,
                    measures=quantity_of(reading.unit),
                    asked=asked,
                )
            ]
        else:
            used = min(values, key=lambda v: _distance(v, right))
            sentences = [_direction(used, right) if direction else say("wrong.untold")]
    note = () if used is None else _read_as(reading, values.index(used))
    return Verdict(
        "wrong",
        (say("verdict.wrong"), *sentences, *note),
        tuple(slips),
        number=None if used is None else float(used),
    )


def _step_mistaken(draw, values, digits):
    """The key of the mistake in a step that leads to one of some values, or None. What is typed
    must fit closely: of so many mistakes one would lie near any number.
    """
    for key, wrong in mistakes(draw.problem, draw.given):
        near = draw.problem.number.tolerance(wrong) / 4.0
        for value, written in zip(values, digits, strict=True):
            if value is not None and (
                abs(value - wrong) <= near or _rounds_to(value, wrong, written)
            ):
                return key
    return None


def _read_as(reading, k):
    """How a number that can be read in two ways was read; nothing where the point is plainly a
    decimal point.
    """
    if len(reading.values) == 1 or (k == 0 and "." in reading.text):
        return ()
    return (
        say(
            "read.as",
            text=clip(reading.text),
            number=quantity_text(reading.values[k], reading.unit or "1", 8),
        ),
    )


def _distance(value, right):
    """How far a number is from another on the scale of powers of ten."""
    return (
        abs(math.log10(value / right))
        if value and right and value / right > 0.0
        else abs(value - right) + 100.0
    )


def _scaled(value, right):
    """The value with its decimal point moved to where the right one has it."""
    if not value or not right:
        return value
    shift = round(math.log10(abs(right)) - math.log10(abs(value)))
    return value * 10.0**shift if shift else value


def _direction(value, right):
    """Direction and order of magnitude of an unknown mistake, never the value."""
    if right == 0.0 or value == 0.0:
        return say("wrong.above" if value > right else "wrong.below")
    if (value > 0.0) != (right > 0.0):
        return say("wrong.sign_unknown")
    orders = int(abs(math.log10(abs(value)) - math.log10(abs(right))) + 1e-9)
    way = "high" if value > right else "low"
    if not orders:
        return say(f"wrong.{way}")
    return say(
        f"wrong.{way}_orders",
        orders=say("order.one") if orders == 1 else say("order.many", count=orders),
    )
