"""Marking of sheets, answer keys, the report for a lecturer."""

from .ground import Ground, ground, lessons_named, override_faults, run_command
from .keys import (
    answer_key_csv,
    answer_key_html,
    draws_for,
    problem_sheets_html,
    sample_problems_html,
)
from .marking import Marked, main, mark
from .plots import problems, slips, solved
from .report import Report, defused
from .secret import load_secret, lock_of, secret_path
