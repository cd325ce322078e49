"""A button that shows and hides a part of a page: numbers of a panel, problems for the doubtful."""

from collections.abc import Callable

from .parts import button


class Opener:
    """A button and the part that it shows and hides; at first the part is hidden.

    shows: what stands on the button while the part is hidden, and while it is shown; part: a
    widget; fill: called each time before the part is seen (None: nothing to fill). What is open
    stays so while controls move.
    """

    def __init__(self, shows: tuple, part: object, fill: Callable | None = None):
        self._shows, self._part, self._fill = shows, part, fill
        self.button = button(shows[0], lambda: self.show(not self.shown))
        self.show(False)

    @property
    def shown(self):
        """True while the part is seen."""
        return self._part.layout.display != "none"

    def show(self, shown):
        """Show (True) or hide the part."""
        if shown and self._fill:
            self._fill()
        self._part.layout.display = "" if shown else "none"
        self.button.description = self._shows[shown]
