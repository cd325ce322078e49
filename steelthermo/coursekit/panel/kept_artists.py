"""Artists that keep their pictures: bars and texts drawn once and then only put down, for pictures
that change in milliseconds.

Each looks as the artist of Matplotlib that it stands for, on whole pixels (tests/test_style.py
compares them); other renderers than Agg get that artist itself.

What they buy, draw() of a panel at scale 2, in ms with them and with Matplotlib's own artists:
heat_balance 9.2 and 14.7, oxidation_heat 9.5 and 17.7, the_blow 15.5 and 20.8, how_sure_are_we 11.8
and 19.6.
"""

import numpy as np
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.patches import Rectangle
from matplotlib.text import Text
from matplotlib.transforms import Affine2D, IdentityTransform

_KEPT, _MOST = (
    {},
    1000,
)  # pictures of texts, characters and hatches by their look, and how many of them are kept


class Bar(Rectangle):
    """A bar that moves: its hatch is drawn once, for a square that repeats, and then only put down,
    on whole pixels, which takes a fifth of the time.

    A bar without a hatch, or with an edge, is drawn as Matplotlib draws it.
    """

    def draw(self, renderer):
        if not isinstance(renderer, RendererAgg) or self.get_linewidth() or not self.get_hatch():
            super().draw(renderer)
            return
        box = self.get_window_extent()
        box = box.intersection(box, self.axes.bbox)
        (left, low), (right, high) = (
            np.rint(box.get_points()).astype(int) if box is not None else ((0, 0), (0, 0))
        )
        if self.get_visible() and left < right and low < high:
            square = self._square(renderer)
            side = len(square)
            over, beside = (
                (int(renderer.height) - high) % side,
                left % side,
            )  # a hatch begins at the upper left corner of the picture
            many = np.tile(
                square, (-(-(over + high - low) // side), -(-(beside + right - left) // side), 1)
            )
            gc = renderer.new_gc()
            renderer.draw_image(
                gc,
                left,
                low,
                many[over : over + high - low, beside : beside + right - left][::-1].copy(),
            )
            gc.restore()
        self.stale = False

    def _square(self, renderer):
        """Image of the bar's look as wide and high as a hatch, the highest row first."""
        side = int(renderer.dpi)
        look = (Bar, self.get_facecolor(), self.get_edgecolor(), self.get_hatch(), side)
        if look not in _KEPT:
            sheet = RendererAgg(side, side, renderer.dpi)
            whole = Rectangle((-1, -1), side + 2, side + 2)
            whole.update_from(self)
            whole.set_transform(IdentityTransform())
            whole.set_clip_box(None)
            whole.draw(sheet)
            _KEPT[look] = np.asarray(sheet.buffer_rgba()).copy()
        return _KEPT[look]


class Stamp(Text):
    """A moving text that keeps its pictures: each wording set in type once, then only put down,
    which takes a tenth of the time.

    Add it by ax.add_artist(Stamp(...)). Texts of the same look share their pictures. For wording
    that is new at every step: Figures.
    """

    def __init__(self, x, y, text, **more):
        super().__init__(x, y, text, **({"animated": True, "clip_on": False} | more))
        self._own = {}  # a text with a box shares with none

    def draw(self, renderer):
        if not isinstance(renderer, RendererAgg):
            super().draw(renderer)
        elif self.get_visible() and self.get_text():
            right, up, image = self._picture(renderer)
            x, y = np.rint(self.get_transform().transform(self.get_position())).astype(int)
            gc = renderer.new_gc()
            renderer.draw_image(gc, x + right, y + up, image)
            gc.restore()
        self.stale = False

    def _picture(self, renderer):
        """Pixels to the right of the text's place, above it, and its image, the lowest row
        first.
        """
        kept, look = _KEPT if self.get_bbox_patch() is None else self._own, self._look(renderer)
        if look not in kept:
            if len(kept) >= _MOST:
                kept.clear()
            kept[look] = self._set_in_type(renderer)
        return kept[look]

    def _look(self, renderer):
        how = (
            self.get_horizontalalignment(),
            self.get_verticalalignment(),
            self.get_rotation(),
            self._linespacing,
        )
        return (
            self.get_text(),
            self.get_color(),
            self.get_alpha(),
            hash(self.get_fontproperties()),
            renderer.dpi,
            *how,
        )

    def _set_in_type(self, renderer):
        box, transform = self.get_window_extent(renderer), self.get_transform()
        if self.get_bbox_patch() is not None:
            self.update_bbox_position_size(renderer)
            box = box.union([box, self.get_bbox_patch().get_window_extent(renderer)])
        place = transform.transform(self.get_position())
        (left, low), (right, high) = (
            np.floor(box.min - place).astype(int) - 2,
            np.ceil(box.max - place).astype(int) + 2,
        )
        sheet = RendererAgg(right - left, high - low, renderer.dpi)
        self.set_transform(transform + Affine2D().translate(*(-place - (left, low))))
        super().draw(sheet)
        self.set_transform(transform)
        return left, low, np.asarray(sheet.buffer_rgba())[::-1].copy()


class Figures(Stamp):
    """A moving text whose wording is new at every step: put together from the kept pictures of its
    characters, each on a whole pixel.

    It may have lines and a box without an edge. Add it by ax.add_artist(Figures(...)), or by
    figures(ax, ...).
    """

    def _picture(self, renderer):
        look = self._look(renderer)
        if look not in self._own:  # only the last one: the next will be new again
            self._own = {look: self._put_together(renderer)}
        return self._own[look]

    def _put_together(self, renderer):
        across = {"left": 0.0, "center": 0.5, "right": 1.0}[self.get_horizontalalignment()]
        lines = self.get_text().split("\n")
        below = {"top": 0.0, "center": 0.5}.get(self.get_verticalalignment(), 1.0) * (
            len(lines) - 1
        )  # lines whose room lies below the place
        (low, high), step, more = self._line(renderer)
        moved = (
            {"top": -more, "center": 0.0}.get(self.get_verticalalignment(), more)
            if len(lines) > 1
            else 0.0
        )
        parts, left, right = [], 0, 0
        for at, line in enumerate(lines):
            pen, row, up_by = 0.0, [], round((below - at) * step + moved)
            for character in line:
                (aside, up, image), advance = self._character(character, renderer)
                row.append((round(pen) + aside, up + up_by, image))
                pen += advance
            back = round(pen * across)
            parts += [(x - back, y, image) for x, y, image in row]
            left, right = min(left, -back), max(right, round(pen) - back)
        low, high = (
            round(low + moved + (below - len(lines) + 1) * step),
            round(high + moved + below * step),
        )
        box = self.get_bbox_patch()
        if box is not None:
            pad = round(box.get_boxstyle().pad * renderer.points_to_pixels(self.get_fontsize()))
            left, low, right, high = left - pad, low - pad, right + pad, high + pad
        left, low = min([left, *(x for x, _, _ in parts)]), min([low, *(y for _, y, _ in parts)])
        right, high = (
            max([right, *(x + p.shape[1] for x, _, p in parts)]),
            max([high, *(y + p.shape[0] for _, y, p in parts)]),
        )
        out = np.zeros((high - low, right - left, 4), np.uint8)
        for x, y, picture in parts:
            place = out[
                y - low : y - low + picture.shape[0], x - left : x - left + picture.shape[1]
            ]
            np.copyto(place, picture, where=picture[..., 3:] > place[..., 3:])
        return (
            left,
            low,
            out if box is None else _on(out, np.round(np.multiply(255, box.get_facecolor()))),
        )

    def _line(self, renderer):
        """Of a line of text: how far it reaches below and above its place, how far the next one is,
        and what many lines have more room at top and foot.
        """
        look = (
            Figures,
            hash(self.get_fontproperties()),
            renderer.dpi,
            self.get_verticalalignment(),
            self._linespacing,
        )
        if look not in _KEPT:
            one, two = (
                self._plain(text, self.get_verticalalignment()).get_window_extent(renderer)
                for text in ("0", "0\n0")
            )
            _KEPT[look] = (one.y0, one.y1), two.height / 2, (two.height / 2 - one.height) / 2
        return _KEPT[look]

    def _character(self, character, renderer):
        """Picture of a character that stands to the right of its place, and the pixels to the next
        one.
        """
        look = (
            Figures,
            character,
            self.get_color(),
            hash(self.get_fontproperties()),
            renderer.dpi,
            self.get_verticalalignment(),
        )
        if look not in _KEPT:
            font = self.get_fontproperties()
            wide, narrow = (
                renderer.get_text_width_height_descent(text, font, False)[0]
                for text in (f"0{character}0", "00")
            )
            right, up, image = self._alone(character, "baseline", renderer)
            up += (
                self._alone("lp", self.get_verticalalignment(), renderer)[1]
                - self._alone("lp", "baseline", renderer)[1]
            )
            _KEPT[look] = ((right, up, image), wide - narrow)
        return _KEPT[look]

    def _alone(self, text, vertical, renderer):
        return self._plain(text, vertical)._set_in_type(renderer)

    def _plain(self, text, vertical):
        """Another wording in the same look, to the right of the corner of the picture."""
        one = Stamp(0.0, 0.0, text)
        one.update_from(self)
        one.set_figure(self.get_figure())
        one.set(
            horizontalalignment="left", verticalalignment=vertical, transform=IdentityTransform()
        )
        return one


def _on(image, colour):
    """An image laid on an even ground, both with their opacity; values 0 to 255."""
    over = image[..., 3:] / 255.0
    under = colour[3] / 255.0 * (1.0 - over)
    both = over + under
    ink = (image[..., :3] * over + colour[:3] * under) / np.maximum(both, 1e-9)
    return np.concatenate([ink, 255.0 * both], axis=-1).round().astype(np.uint8)
