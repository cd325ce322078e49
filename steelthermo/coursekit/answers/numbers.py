"""Reading what a learner types, a number with or without a unit, and writing numbers for a learner
to read.

Read are: decimal point or comma; thousands separated by (thin, narrow or hard) spaces, apostrophes,
points or commas; 1.2e4, 1,2·10^4, 1.2*10**4, 10⁴; Unicode minus; units of the trade however they
are usually written (kJ mol-1, kWh per tonne, Nm³ O2/t steel).
"""

import math
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from ...base import InputError, minus, rows
from .units_typed import UnknownUnit, unit_of
from .words import say

LONGEST = 100  # characters of an answer that is still read
EXAMPLE = "12.5"
_SUPERSCRIPTS = str.maketrans("⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "+-0123456789")
_MINUS = dict.fromkeys(map(ord, "−‐‑‒–—﹣－"), "-")
_TIMES = "x×*·⋅∙•"
_POWER_OF_TEN = re.compile(r"(?<![\d.,])10 ?(?:\^|\*\*) ?(?:\( ?([+-]? ?\d+) ?\)|([+-]? ?\d+))")
_NUMBER = re.compile(r"([+-]?) ?(\d[\d.,' _]*|[.,]\d+)?(?: ?[eE] ?([+-]?\d+))?")
_GROUPED = re.compile(r"\d{1,3}(?:([ '_])\d{3})(?:\1\d{3})*")
_FRACTION = re.compile(r"\d*|\d{3}(?: \d{3})*(?: \d{1,3})?")


class AnswerError(InputError):
    """An answer that cannot be read. kind: the part after 'read.' of its sentence in
    words.toml; the text is for the learner.
    """

    def __init__(self, kind, **values):
        super().__init__(say(f"read.{kind}", **values))
        self.kind = kind


@dataclass(frozen=True, slots=True)
class Reading:
    """An answer as read.

    values: the possible numbers, the likelier first (two only for '1,250' and its like); unit: name
    in units.csv or None;
    digits: significant digits written, for each value; text: as typed, cleaned.
    """

    values: tuple
    unit: str | None
    digits: tuple
    text: str


def clip(text: object, limit: int = 40) -> str:
    """Text shortened for a message, with control characters shown as a dot.

    Parameters
    ----------
    text : anything; taken as text
    limit : characters at most

    Returns
    -------
    text

    Examples
    --------
    >>> clip("a long answer", 7)
    'a long…'
    """
    text = "".join(
        c if c.isprintable() else " " if unicodedata.category(c) == "Zs" else "·"
        for c in str(text)[: limit + 1]
    )
    return text if len(text) <= limit else text[: limit - 1] + "…"


def _clean(text):
    """The text in one spelling: ASCII digits, signs and spaces, 10⁴ as 10^4."""
    text = re.sub(
        r"(?<!\d)10 ?([⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+)", lambda m: "10^" + m[1].translate(_SUPERSCRIPTS), text
    )
    if re.search(r"\d[⁺⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]", text):
        raise AnswerError("sum", text=clip(text), example=EXAMPLE)
    text = unicodedata.normalize("NFKC", text).translate(_MINUS)
    text = "".join(str(unicodedata.decimal(c)) if c.isdecimal() and c > "9" else c for c in text)
    text = text.replace("٫", ".").replace("٬", "'").replace("’", "'").replace("−", "-")
    return re.sub(r"\s+", " ", text).strip()


def _mantissa(text):
    """The possible readings of digits with separators as a list of (plain decimal text, digits);
    None where the text is no one number.
    """
    points, commas = text.count("."), text.count(",")
    if points > 1 and commas > 1:
        return None
    if points and commas:  # the mark that comes last is the decimal one, the other groups thousands
        mark, group = (".", ",") if text.rindex(".") > text.rindex(",") else (",", ".")
        if text.count(mark) > 1:
            return None
        whole, fraction = text.split(mark)
        if (
            not re.fullmatch(rf"\d{{1,3}}(?:{re.escape(group)}\d{{3}})+", whole)
            or not fraction.isdecimal()
            and fraction
        ):
            return None
        return [f"{whole.replace(group, '')}.{fraction}"]
    mark = "." if points else ","
    if points + commas > 1:
        return (
            [text.replace(mark, "")]
            if re.fullmatch(rf"\d{{1,3}}(?:{re.escape(mark)}\d{{3}})+", text)
            else None
        )
    whole, _, fraction = text.partition(mark)
    if not (whole.isdecimal() or _GROUPED.fullmatch(whole) or not whole) or not _FRACTION.fullmatch(
        fraction
    ):
        return None
    plain = re.sub(r"[ '_]", "", whole)
    out = [f"{plain or '0'}.{fraction.replace(' ', '')}"]
    if (
        re.fullmatch(r"[1-9]\d{0,2}", whole) and len(fraction) == 3
    ):  # 1,250 or 1.250: a decimal mark or thousands
        out.append(plain + fraction)
    return out


def _digits(plain):
    """Significant digits written in a plain decimal text; zeros that end a whole number are not
    counted.
    """
    whole, _, fraction = plain.partition(".")
    figures = (whole + fraction).lstrip("0")
    return max(1, len(figures if fraction else figures.rstrip("0")))


def _number(text, original):
    """((value, digits), ...) and the rest of the text after the number."""
    ten = _POWER_OF_TEN.search(text)
    if ten:
        head, tail = text[: ten.start()].rstrip(" " + _TIMES), text[ten.end() :]
        exponent = (ten[1] or ten[2]).replace(" ", "")
        match = _NUMBER.fullmatch(head)
        if not match or match[3] is not None:
            raise AnswerError(
                "sum" if re.search(r"\d", head) else "word", text=clip(original), example=EXAMPLE
            )
        sign, mantissa = match[1], (match[2] or "1")
    else:
        match = _NUMBER.match(text)
        if not match or not match[2]:
            raise AnswerError("word", text=clip(original), example=EXAMPLE)
        sign, mantissa, exponent, tail = match[1], match[2], match[3] or "0", text[match.end() :]
    readings = _mantissa(mantissa.rstrip(" _'.,"))
    if readings is None:
        raise AnswerError("two", text=clip(original))
    out = []
    for plain in readings:
        number = float(f"{sign}{plain}e{exponent}") if len(exponent) < 7 else math.inf
        if (
            not math.isfinite(number)
            or (number == 0.0) != (not plain.strip("0."))
            or (number and not 1e-30 <= abs(number) <= 1e30)
        ):
            raise AnswerError("range", text=clip(original))
        out.append((number, _digits(plain)))
    return out, tail


def read(text: object, wanted: Iterable = (), example: str = EXAMPLE) -> Reading:
    """Read an answer.

    Parameters
    ----------
    text : what the learner typed, of any length and content
    wanted : units to name if the unit typed is unknown
    example : an answer in the right form, for the message

    Returns
    -------
    Reading

    Raises
    ------
    AnswerError
        And nothing else.

    Examples
    --------
    >>> found = read("1,2·10^4 kWh per tonne")
    >>> found.values, found.unit, found.digits
    ((12000.0,), 'kWh/t', (2,))
    """
    if not isinstance(text, str) or not text.strip():
        raise AnswerError("none", example=example)
    if len(text) > LONGEST:
        raise AnswerError("long", length=number_text(len(text), 6), limit=LONGEST)
    cleaned = _clean(text).lstrip("=≈~ ").rstrip()
    if not cleaned:
        raise AnswerError("word", text=clip(text), example=example)
    if len(cleaned) > 4 * LONGEST:  # a few Unicode ligatures unfold into many letters
        raise AnswerError("long", length=len(cleaned), limit=LONGEST)
    numbers, tail = _number(cleaned, text)
    tail = tail.strip(" ;,")
    tail = tail[:-1].rstrip() if tail.endswith(".") else tail
    if re.match(r"[+*/^×·:⁄]|x ?\d", tail):
        raise AnswerError("sum", text=clip(text), example=example)
    if tail.startswith("-") or re.search(r"(?:^| |\()[-+±~]? ?\d|±", tail):
        raise AnswerError("two", text=clip(text))
    try:
        unit = unit_of(tail) if tail else None
    except UnknownUnit:
        named = [u for u in wanted if u != "1"][:8]
        hint = say("read.unit_wanted", units=", ".join(named)) if named else say("read.unit_none")
        raise AnswerError("unit", unit=clip(tail), wanted=hint) from None
    return Reading(tuple(n for n, _ in numbers), unit, tuple(d for _, d in numbers), cleaned)


def read_choice(text: object, count: int) -> int:
    """The number of a choice, from '3', 'line 3', '(3)' or '3.'.

    Parameters
    ----------
    text : what the learner typed
    count : of the lines there are

    Returns
    -------
    1 to count

    Raises
    ------
    AnswerError

    Examples
    --------
    >>> read_choice("line 3", 4)
    3
    """
    if not isinstance(text, str) or not text.strip():
        raise AnswerError("none_chosen", count=count)
    found = (
        re.fullmatch(
            r"\D{0,12}?(\d{1,3})[.):]?", unicodedata.normalize("NFKC", text.strip()[: LONGEST + 1])
        )
        if len(text) <= LONGEST
        else None
    )
    if not found or not 1 <= int(found[1]) <= count:
        raise AnswerError("choice", text=clip(text), count=count)
    return int(found[1])


def number_text(number: float, digits: int = 4, decimals: int | None = None) -> str:
    """A number as a learner reads it, powers of ten only where needed.

    Parameters
    ----------
    number : any
    digits : significant ones to which it is rounded
    decimals : instead of them, fixed decimals

    Returns
    -------
    text; thousands from 10 000 apart by a narrow blank

    Examples
    --------
    >>> number_text(-0.123456), number_text(2.0e12), number_text(7.0, decimals=2)
    ('−0.1235', '2·10¹²', '7.00')
    """
    number = float(number)
    if number == 0.0:
        return f"{0:.{decimals or 0}f}"
    if decimals is None:
        exponent = int(f"{number:.{digits - 1}e}".partition("e")[2])
        if not -4 <= exponent < 9:
            mantissa = f"{number / 10.0**exponent:.{digits - 1}f}"
            mantissa = mantissa.rstrip("0").rstrip(".") if "." in mantissa else mantissa
            power = str(exponent).translate(str.maketrans("+-0123456789", "⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
            return f"{mantissa}·10{power}".replace("-", "−")
        places = digits - 1 - exponent
        text = f"{round(number, places):.{max(places, 0)}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
    else:
        text = f"{number:.{decimals}f}"
    whole, dot, fraction = text.lstrip("-").partition(".")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", "\u202f")
    return ("−" if text.startswith("-") else "") + whole + dot + fraction


def quantity_text(number: float, unit: str, digits: int = 4, decimals: int | None = None) -> str:
    """A number with its unit, as a learner reads it.

    Parameters
    ----------
    number, digits, decimals : as in number_text()
    unit : a name in units.csv; '1' is left out

    Returns
    -------
    text

    Examples
    --------
    >>> quantity_text(47.66, "Nm3/t", 3).split()
    ['47.7', 'Nm3/t']
    """
    text = number_text(number, digits, decimals)
    return text if unit == "1" else f"{text}\u00a0{unit}"


_THOUSANDS = re.compile(r"(?<=\d) (?=\d{3}(?!\d))")
# not the number of a standard, a report or a substance: IEC 60079-20-1, ARIA 33059, 12-85968
_LONG = re.compile(
    r"(?<![\w.,\u202f])(?<![A-Z]{2}[ \u00a0])(?<!\d-)(\d{2,3})(\d{3})"
    r"(?!-\d)(?![\w,.]*\d)(?![A-Za-z])"
)
# the letters after a number that may be a unit; longer words are prose
_UNIT = re.compile(r"(?<=[\d⁺⁻⁰¹²³⁴⁵⁶⁷⁸⁹]) (?=(?:%|°C|[A-Za-z]{1,4}\d?)(?:/[A-Za-z]\w*)?(?![\w/]))")


def bound(text: str) -> str:
    r"""A text whose numbers do not break at the end of a line, and have a true minus sign.

    Parameters
    ----------
    text : any

    Returns
    -------
    text; thousands apart by a narrow blank, a hard blank before a unit

    Examples
    --------
    >>> ascii(bound("some 12000 kg of lime"))
    "'some 12\\u202f000\\xa0kg of lime'"
    """
    text = _LONG.sub("\\1\u202f\\2", _THOUSANDS.sub("\u202f", minus(text)))
    return _UNIT.sub(_hard, text)


def _hard(match):
    word = re.match(r"[%°\w/]*", match.string[match.end() :])[0]
    return "\u00a0" if word == "%" or word.split("/")[0] in _units() else " "


@cache
def _units():
    return {row["unit"].split("/")[0] for row in rows("units")} | {"ppm", "Nm3"}
