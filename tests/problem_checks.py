"""What must hold of every problem, whatever it is about: faults(problem, learners) lists what does
not, in words.

Whether a solver is right is not asked here: test_problems.py of each lesson compares with sums
written out and with published examples.
"""

import re
import warnings
from dataclasses import replace

import numpy as np

from steelthermo.base import ExtrapolationWarning, InputError
from steelthermo.coursekit.answers import number_text, quantity_text
from steelthermo.coursekit.page import markdown
from steelthermo.coursekit.problems import Draw, check, draw, draw_many
from steelthermo.coursekit.problems import draws as drawing

_NUMBER = re.compile(r"(?<![A-Za-z\d.])[−-]?\d[\d\u202f\u00a0 ]*(?:\.\d+)?(?:·10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?")
_SUPERSCRIPTS = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")


def numbers_in(text):
    """All numbers that can be read in a text as the kit prints them."""
    out = []
    for found in _NUMBER.findall(text):
        plain = re.sub(r"[\u202f\u00a0 ]", "", found.replace("−", "-"))
        out.append(float(re.sub(r"·10(.+)", lambda m: "e" + m[1].translate(_SUPERSCRIPTS), plain)))
    return out


def faults(problem, learners=200, works=None, walked=30):
    """Everything wrong with a problem, at a works (works.Profile) if one is given, as a list of
    sentences; empty if all is well. walked: of the learners, so many are drawn alone, answered and
    shown their texts too, which takes most of the time.
    """
    problem = (
        problem.at(works) if works else problem
    )  # an odd works may not fall back on Heron Works's ranges here
    with warnings.catch_warnings():
        warnings.simplefilter("error", ExtrapolationWarning)
        try:
            if problem.beyond and not _leaves(problem, learners):
                return ["it says that it leaves a range and does not"]
            return _declared(problem) + (_arrays(problem) or _drawn(problem, learners, walked))
        except ExtrapolationWarning as warning:
            return [f"the solver leaves the published range of a correlation: {warning}"]


def _leaves(problem, learners):
    """Whether some draw leaves the range of a published figure."""
    silent = replace(problem, beyond="", slips=())
    try:
        for i in range(learners):
            draw(silent, f"learner {i}")
    except ExtrapolationWarning:
        return True
    return False


def _declared(problem):
    out = []
    if len(problem.hints) + len(problem.steps[1:] and problem.steps) < 2:
        out.append("there is one hint only; hints go from gentle to nearly-there")
    if problem.number is not None and not (problem.slips or problem.steps):
        out.append("no slip is named")
    if any(word in str(problem.text) for word in ("TODO", "XXX")):
        out.append("the text is unfinished")
    return out


def _arrays(problem):
    """A problem that says it takes arrays must take them, and give for each learner what it gives
    for one.
    """
    if not problem.vector:
        return []
    given = {
        g.name: np.array([g.grid[k % len(g.grid)] for k in range(5)])
        if not isinstance(g.grid[0], str)
        else g.grid[0]
        for g in problem.given
    }
    try:
        drawing._evaluate(problem, given, 5)
    except InputError:
        # corners of the grid that cannot be solved: draw_many takes such learners one by one
        return []
    except ExtrapolationWarning:
        raise
    except Exception as error:
        return [
            f"its functions do not take arrays ({type(error).__name__}: {error}); make them, or "
            "say vector=False"
        ]
    return []


def _drawn(problem, learners, walked):
    wanted = [(f"learner {i}", "course", 1 + i % 2) for i in range(learners)]
    made = draw_many(problem, wanted)
    failed = [one for one in made if not isinstance(one, Draw)]
    if failed:
        return [f"{len(failed)} of {learners} learners cannot be given numbers: {failed[0]}"]
    out = []
    if np.mean([one.tries for one in made]) > 4.0:
        out.append(
            f"four of five draws are refused ({np.mean([one.tries for one in made]):.1f} tries): "
            "choose narrower ranges or a smaller tolerance"
        )
    for one, (learner, course, number) in list(zip(made, wanted, strict=True))[: 2 * walked // 3]:
        alone = draw(problem, learner, course, number)
        if (
            alone.given != one.given
            or (alone.choice, alone.problem) != (one.choice, one.problem)
            or not _same(alone.number, one.number)
            or alone.slips.keys() != one.slips.keys()
        ):
            out.append(
                f"a class drawn at once and {learner} drawn alone differ: {one.given} {one.number} "
                f"and {alone.given} {alone.number}"
            )
            break
    if problem.given and np.prod([float(len(g.grid)) for g in problem.given]) >= 30:
        distinct = len({tuple(one.given.values()) for one in made[::2]})
        if distinct < min(15, learners // 4):
            out.append(
                f"only {distinct} different sets of numbers were drawn for {learners // 2} learners"
            )
    if problem.choice and not problem.choice.ordered and len({one.choice for one in made}) == 1:
        out.append(f"line {made[0].choice} is right for everybody")
    for one in made:
        out += _within(one)
    for one in made[:walked]:
        out += _answered(one)
    out += _slips(problem, made)
    out += _texts(problem, made[: 2 * walked // 5])
    return list(dict.fromkeys(out))


def _same(a, b):
    return a == b or (a is not None and b is not None and abs(a - b) <= 1e-9 * max(abs(a), abs(b)))


def _within(one):
    """Values on the grid, a finite right answer, an existing line, slips outside the tolerance."""
    problem, out = one.problem, []
    out += [
        f"{g.name} = {one.given[g.name]} is not in its range"
        for g in problem.given
        if one.given[g.name] not in g.grid
    ]
    if problem.number is not None and not np.isfinite(one.number):
        out.append(f"the right answer is {one.number}")
    if problem.choice and not 1 <= one.choice <= len(problem.choice.options):
        out.append(f"line {one.choice} is right, but there are {len(problem.choice.options)}")
    for key, (line, number) in one.slips.items():
        if abs(number - one.number) <= problem.number.tolerance(one.number) and (
            line is None or line == one.choice
        ):
            out.append(f"slip {key} comes within the tolerance of the right answer")
    return out


def _answered(one):
    """The right answer, in full and as printed, must be accepted; each slip, as a learner who makes
    it types it, must be named.
    """
    problem, out = one.problem, []
    head = "" if one.choice is None else f"{one.choice}; " if problem.number else str(one.choice)
    full = head + ("" if problem.number is None else f"{one.number:.10g}")
    if not check(one, full).done or check(one, full).state != "right":
        out.append(f"the right answer {full} is not taken as right")
    if not check(one, one.answer_text()).done:
        out.append(
            f"the right answer as printed, {one.answer_text()}, is refused: too few figures for "
            "this tolerance"
        )
    for key, (line, number) in one.slips.items():
        typed = ("" if one.choice is None else f"{line or one.choice}; ") + quantity_text(
            number, problem.number.unit, 7
        )
        verdict = check(one, typed)
        if verdict.state != "wrong" or key not in verdict.slips:
            out.append(f"a learner who makes the slip {key} and types {typed} is not told so")
    if problem.choice:
        for line in range(1, len(problem.choice.options) + 1):
            verdict = check(
                one, str(line) if problem.number is None else f"{line}; {one.number:.10g}"
            )
            if verdict.done != (line == one.choice) or len(verdict.sentences) < 2:
                out.append(f"line {line} is not answered as it should be")
    return out


def _slips(problem, made):
    """Every named slip must be possible for some learner at least."""
    possible = {key for one in made for key in one.slips}
    return [
        f"slip {slip.key} is possible for nobody"
        for slip in problem.slips
        if problem.number is not None and slip.key not in possible
    ]


def _texts(problem, made):
    """All texts must render; the worked solution must hold the right value, text and hints must
    not.
    """
    out, told = [], []
    for one in made:
        open_texts = [one.text(problem.text), *one.hints()]
        texts = [
            *open_texts,
            one.worked_text(),
            *(one.text(s.sentence) for s in problem.slips),
        ]
        texts += (
            [one.text(x) for x in (*one.problem.choice.options, *one.problem.choice.sentences)]
            if problem.choice
            else []
        )
        for text in texts:
            if not text.strip() or not markdown(text).strip():
                out.append("a text is empty")
            if re.search(r"[{}]|\bnan\b|\binf\b|np\.float64|\d\.0*[1-9]\d{8}", text):
                out.append(f"a text is not filled in as it should be: {text[:120]!r}")
        worked = numbers_in(one.worked_text())
        if problem.number is not None and not any(
            abs(x - one.number) <= problem.number.tolerance(one.number) for x in worked
        ):
            out.append(
                f"the worked solution does not hold the right value {number_text(one.number)}"
            )
        if problem.number is None and float(one.choice) not in worked:
            out.append(f"the worked solution does not name line {one.choice}")
        if problem.number is not None:
            shown = number_text(one.number)
            told.append(
                sum(c.isdigit() for c in shown.strip("0.")) >= 3
                and any(shown in text for text in open_texts)
            )
    if told and all(told):
        out.append("text or hints give the answer away")
    return out


def missed_by_hand(hand, problem, learners=60, share=0.7, works=None):
    """The draws (their given values) at which a sum by hand, hand(**given), lies further off the
    solver than a share of the tolerance.
    """
    found = draw_many(
        problem, [(f"learner {i}", "self-study", 1) for i in range(learners)], works=works
    )
    return [
        one.given
        for one in found
        if not abs(hand(**one.given) - one.number) <= share * problem.number.tolerance(one.number)
    ]
