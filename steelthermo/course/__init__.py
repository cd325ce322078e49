"""Oxygen steelmaking, taught: one folder a lesson, with its panel and its problems. Lessons,
exercises and commands call what stands here.
"""

from .edition import __version__
from .for_commands import (
    form,
    formula_sheet_html,
    glossary_html,
    heat_plan,
    lesson_without_terms,
    planning_sheet_html,
    sample_problems_html,
    usual_heat,
    visit_card_html,
    with_terms_listed,
    works_files,
)
from .in_lessons import (
    ask,
    exercise,
    glossary,
    mark,
    panel,
    paper,
    predict,
    published_values,
    steel,
    today,
    values_from_memory,
    vessel,
    visit_card,
)
from .sheets import drill, heat_sheet, home, planning_sheet
