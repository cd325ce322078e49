"""The course as a web book with a handout to print, and as pages in which the lessons run in a
browser with nothing installed.
"""

from .command import main
