"""Marking of sheets, answer keys, the report for a lecturer."""

from .command import main as mark_command
from .exam import exam_file
from .exam import main as exam_command
from .ground import Ground, ground, lessons_named, override_faults, run_command
from .keys import (
    answer_key_csv,
    answer_key_html,
    draws_for,
    problem_sheets_html,
    sample_problems_html,
)
from .keys import main as key_command
from .marking import Marked, mark
from .plots import problems, slips, solved
from .report import Report, defused
from .secret import load_secret, lock_of, secret_path
