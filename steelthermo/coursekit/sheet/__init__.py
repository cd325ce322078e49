"""The answer sheet: its format, the file, the journal of a session, progress, and the course it
belongs to.
"""

from .course import (
    LONGEST_NAME,
    Course,
    course_for_all,
    free,
    kept_aside,
    load_course,
    load_me,
    save_me,
    working_folder,
)
from .due import due_problems
from .format import (
    LIMIT_BYTES,
    LIMIT_LINES,
    LINE_BYTES,
    SCHEMA,
    Contents,
    SheetError,
    encode,
    parse,
    seal_key,
)
from .handing import check_line, hand_in, verified
from .journal import Journal, journal_here
from .progress import LONGEST_GAP_S, Standing, standings
from .reading import read_sheet, sheet_bytes, sheet_from, sheet_limits
from .roster import ROSTER, Person, Roster, file_id, load_roster
from .sheets import (
    SHEET_ENDINGS,
    TWIN_ENDING,
    Sheet,
    fingerprint,
    kept_by_browser,
    sheet_name,
    unwritten,
)
