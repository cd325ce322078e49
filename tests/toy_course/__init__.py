"""A course on something else than steel, for the test that the kit can teach it."""

from steelthermo.coursekit import CourseAdapter

COFFEE = CourseAdapter(
    package="toy_course", command="coffee", version="1", words=frozenset(("of", "coffee", "milk"))
)
