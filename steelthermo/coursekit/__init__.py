"""An engine for courses: answers with units, problems, sheets, marking, pages, panels."""
