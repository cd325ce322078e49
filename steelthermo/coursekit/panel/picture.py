"""One picture of fixed size that is changed in milliseconds: a background drawn once, and the few
artists that move.

No widget and no pyplot here: a Picture takes a record and returns PNG bytes.
"""

import io
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from matplotlib import rc_context
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.text import Text
from PIL import Image

from ...base import in_another_language, translated
from .style import HALO, PAPER, RC, figures

_LEAST_PT = 6.0  # letters of a text that a translation made too long for the picture
_MOST_KEPT = 6  # backgrounds of a picture, one to five megabytes each


@dataclass(frozen=True)
class Drawing:
    """How a record becomes a picture.

    setup(fig) -> artists: make the axes, with fixed limits, labels and grid, and every artist once;
    those that change
        with the record are made with animated=True (style.line, style.bars and style.figures do
        so). Returns whatever update needs.
    update(artists, record): change those artists in place. Returns what the rest of the picture
    (limits, tick labels, titles) hangs on,
        such as the limits it has set: anything hashable, None if it never changes. Each new one
        costs one full redraw.
    width_px, height_px: size on the page.
    """

    setup: Callable
    update: Callable
    width_px: int = 760
    height_px: int = 380


class Picture:
    """A Drawing on its canvas. scale: pixels of the PNG per pixel of the page (2 is crisp on dense
    screens and at 200 % zoom).
    """

    def __init__(self, drawing, scale=2.0):
        self.drawing = drawing
        self.scale = scale
        self.figure = Figure(
            figsize=(drawing.width_px / 100, drawing.height_px / 100), dpi=100 * scale
        )
        self.canvas = FigureCanvasAgg(self.figure)
        with rc_context(RC):
            self.artists = drawing.setup(self.figure)
            self._veil = self._make_veil()
            self._name_ticks()
            self._in_words_chosen()
        veil = set(self._veil)
        moving = [a for a in self.figure.findobj(lambda a: a.get_animated()) if a not in veil]
        self._moving = sorted(
            moving,
            key=lambda a: (a.axes.get_zorder() if a.axes is not None else -1, a.get_zorder()),
        )
        self._backgrounds = {}
        self._rows = (
            None  # memory for png(), kept because fresh memory costs more than what is done in it
        )

    def _make_veil(self):
        """The mark of an extrapolated result: hatching over every pair of axes, and the word."""
        veil = []
        for ax in self.figure.axes:
            look = {
                "facecolor": "none",
                "edgecolor": HALO,
                "alpha": 0.4,
                "transform": ax.transAxes,
                "zorder": 9,
                "animated": True,
            }
            veil.append(ax.add_patch(Rectangle((0, 0), 1, 1, hatch="//", linewidth=0, **look)))
            veil.append(ax.add_patch(Rectangle((0, 0), 1, 1, linewidth=1.5, **look)))
            box = {"facecolor": PAPER, "edgecolor": HALO, "pad": 3.0}
            at = {"transform": ax.transAxes, "ha": "center", "va": "top", "zorder": 10}
            veil.append(figures(ax, 0.5, 0.97, "extrapolated", bbox=box, **at))
        return veil

    def _name_ticks(self):
        """Put the names along the axes into the language chosen."""
        for ax in self.figure.axes if in_another_language() else ():
            for axis in (ax.xaxis, ax.yaxis):
                names = [text.get_text() for text in axis.get_ticklabels()]
                said = [translated(name) for name in names]
                if said != names:
                    axis.set_ticks(axis.get_ticklocs(), said)

    def _in_words_chosen(self):
        """Put every text of the picture into the language chosen; charts write English."""
        if not in_another_language():
            return
        renderer, width = self.canvas.get_renderer(), self.figure.bbox.width
        for text in self.figure.findobj(Text):
            text.set_text(translated(text.get_text()))
            box = text.get_window_extent(renderer)
            over = max(box.x1 - width, -box.x0)
            if over > 0.0 and box.width > over and text.get_visible():  # smaller, till it has room
                small = text.get_fontsize() * (1.0 - over / box.width)
                text.set_fontsize(max(small, _LEAST_PT))

    def rescale(self, scale):
        """Draw with another number of pixels per pixel of the page from now on."""
        self.scale = scale
        self.figure.set_dpi(100 * scale)
        self._backgrounds.clear()

    def draw(self, record, extrapolated=False):
        """Bring the picture to the record and return it as PNG bytes. extrapolated: hatch it and
        say so.
        """
        # letters where they are, not moved to whole pixels: 1 to 3 ms of some 12 less, and as crisp
        with rc_context({"text.hinting": "none"}):
            self._draw(record, extrapolated)
        return self.png()

    def _draw(self, record, extrapolated):
        fixed = self.drawing.update(self.artists, record)
        self._in_words_chosen()
        if fixed not in self._backgrounds:
            if len(self._backgrounds) >= _MOST_KEPT:
                self._backgrounds.pop(next(iter(self._backgrounds)))
            self.canvas.draw()  # draws all but the animated artists
            whole = self.figure.bbox.padded(1.0)  # else the last column may stay as it was
            self._backgrounds[fixed] = self.canvas.copy_from_bbox(whole)
        self.canvas.restore_region(self._backgrounds[fixed])
        renderer = self.canvas.get_renderer()
        for artist in (*self._moving, *(self._veil if extrapolated else ())):
            artist.draw(renderer)

    def png(self):
        """What was drawn last, as PNG bytes."""
        rgba = np.asarray(self.canvas.buffer_rgba())
        if self._rows is None or self._rows.shape != (rgba.shape[0], 1 + 3 * rgba.shape[1]):
            self._rows = np.empty((rgba.shape[0], 1 + 3 * rgba.shape[1]), np.uint8)
        return png(rgba, self._rows)


def small(png: bytes) -> bytes:
    """The same picture with few colours, for a saved notebook.

    Parameters
    ----------
    png : PNG of any picture

    Returns
    -------
    PNG

    Examples
    --------
    >>> from PIL import Image
    >>> white = png(np.full((2, 3, 4), 255, np.uint8))
    >>> Image.open(io.BytesIO(small(white))).size
    (3, 2)
    """
    # this way of finding the colours, and no search for the last bytes, take a seventh of the time
    # of the library's own choice, which every start would pay
    picture = Image.open(io.BytesIO(png)).convert("RGB")
    out = io.BytesIO()
    few = picture.quantize(256, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
    few.save(out, "PNG")
    return out.getvalue()


# A Jupyter server that the kit did not start sends to the page with Nagle's algorithm (see
# app/socket.py): a message that does not fill a TCP segment waits, up to 40 ms, until the page has
# acknowledged the one before it. A segment of the loopback device holds 65 483 bytes; base64 makes
# 4 of 3.
FILL_TO = 49_500


def png(rgba: np.ndarray, rows: np.ndarray | None = None) -> bytes:
    """An opaque picture as a PNG.

    Written here because the image library tries every row filter on every row; the one filter 'up'
    does as well on a plot (W3C PNG, sections 7 and 9). What it buys, draw() of a panel at scale 2,
    in ms with it and with the library's fastest: heat_balance 12.2 and 24.1, oxidation_heat 14.9
    and 28.0, the_blow 19.8 and 36.1, how_sure_are_we 18.8 and 33.9.
    A small picture is filled up, by a chunk that readers skip, so that it is sent at once.

    Parameters
    ----------
    rgba : bytes in an array (height, width, 4)
    rows : memory to use again, (height, 1 + 3 width)

    Returns
    -------
    PNG

    Examples
    --------
    >>> png(np.full((2, 3, 4), 255, np.uint8))[1:4]
    b'PNG'
    """
    height, width = rgba.shape[:2]
    rows = np.empty((height, 1 + 3 * width), np.uint8) if rows is None else rows
    rgb = Image.frombuffer("RGBX", (width, height), rgba, "raw", "RGBX", 0, 1).tobytes(
        "raw", "RGB"
    )  # NumPy takes 20 times as long
    flat = np.frombuffer(rgb, np.uint8).reshape(height, 3 * width)
    rows[:, 0] = 2
    rows[0, 1:] = flat[0]
    np.subtract(flat[1:], flat[:-1], out=rows[1:, 1:])
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    data = zlib.compress(rows, 1)
    chunks = (
        (b"IHDR", header),
        (b"IDAT", data),
        (b"fiLl", bytes(max(0, FILL_TO - len(data)))),
        (b"IEND", b""),
    )
    body = b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in chunks
    )
    return b"\x89PNG\r\n\x1a\n" + body
