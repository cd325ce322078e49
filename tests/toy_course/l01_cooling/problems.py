"""Problems on coffee that cools by Newton's law."""

import numpy as np

from steelthermo.coursekit.problems import Answer, Choice, Given, Problem, Slip

_HOT = Given("hot_c", "coffee", "°C", 80, 95, 1, "a fresh cup")
_ROOM = Given("room_c", "room", "°C", 16, 26, 1, "a kitchen")
_TIME = Given("time_min", "time", "min", 5, 30, 5, "a coffee break")
_HALF = Given("half_min", "half-life", "min", 12, 24, 2, "cups, from memory")


def after_c(hot_c, room_c, time_min, half_min):
    """Temperature after a time: what lies above the room halves every half-life."""
    return room_c + (hot_c - room_c) * np.exp2(-time_min / half_min)


def milk_later(hot_c, room_c):
    """The line that is right: coffee that is hotter than the room loses more than with milk."""
    return 1 if hot_c > room_c else 2


PROBLEMS = (
    Problem(
        "cooling.after",
        "After a while",
        "Coffee of {hot_c} stands in a room of {room_c}. Its distance to the room halves every "
        "{half_min}. How warm is it after {time_min}?",
        (_HOT, _ROOM, _TIME, _HALF),
        after_c,
        ("Count from the temperature of the room.",),
        "{room_c:n} + ({hot_c:n} − {room_c:n}) / 2^({time_min:n}/{half_min:n}) = {answer}",
        Answer("°C", "a degree: a tongue tells no more", tolerance_abs=0.5),
        slips=(
            Slip(
                "room",
                "You let it cool to 0 °C; it stops at {room_c}.",
                change=lambda given: given | {"room_c": 0.0 * given["room_c"]},
            ),
        ),
    ),
    Problem(
        "cooling.milk",
        "Milk now or later",
        "You drink in ten minutes. When do you pour the milk, to have it as hot as can be?",
        (_HOT, _ROOM),
        milk_later,
        ("Which of the two cups loses more heat?",),
        "Line {line}.",
        choice=Choice(
            ("Now.", "Then."),
            ("With milk it is nearer to the room and loses less.", "Until then it loses more."),
        ),
        vector=False,
    ),
)
