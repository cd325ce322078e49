"""An engine for any course: problems with personal numbers, answer sheets, marking, pages and
panels. It knows no subject: a course hands in what it needs (CourseAdapter) and says use().
"""

from .adapter import CourseAdapter, in_use, use
from .chain import Chain, ChainMark
from .lesson import Lesson
