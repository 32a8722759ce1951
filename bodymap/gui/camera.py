"""Which part of the sheet the canvas shows: a scale and a corner. Knows numbers, not Qt.

Sheet units have y downwards, as pixels have. Pixels are device independent.
"""

from dataclasses import dataclass

Box = tuple[float, float, float, float]
"""left, top, right, bottom"""


@dataclass(frozen=True)
class Camera:
    """``scale`` pixels for each sheet unit; ``left`` and ``top`` are the sheet's place
    at the upper left corner of the canvas."""

    scale: float = 1.0
    left: float = 0.0
    top: float = 0.0

    def to_canvas(self, x: float, y: float) -> tuple[float, float]:
        """Pixels of a place on the sheet."""
        return (x - self.left) * self.scale, (y - self.top) * self.scale

    def to_sheet(self, px: float, py: float) -> tuple[float, float]:
        """The place on the sheet under a pixel."""
        return px / self.scale + self.left, py / self.scale + self.top

    def zoomed(self, factor: float, px: float, py: float, least: float, most: float) -> "Camera":
        """Nearer or farther with the skin under the pixel held in place."""
        scale = min(max(self.scale * factor, least), most)
        x, y = self.to_sheet(px, py)
        return Camera(scale, x - px / scale, y - py / scale)

    def panned(self, dpx: float, dpy: float) -> "Camera":
        """The sheet moved along with the pointer by so many pixels."""
        return Camera(self.scale, self.left - dpx / self.scale, self.top - dpy / self.scale)

    def held(self, sheet: Box, width: float, height: float) -> "Camera":
        """The nearest camera whose middle still lies on the sheet."""
        half_w, half_h = width / self.scale / 2, height / self.scale / 2
        x = min(max(self.left + half_w, sheet[0]), sheet[2])
        y = min(max(self.top + half_h, sheet[1]), sheet[3])
        return Camera(self.scale, x - half_w, y - half_h)


def showing(box: Box, width: float, height: float, margin: float = 12.0) -> Camera:
    """The camera that shows a box of the sheet whole and in the middle."""
    x0, y0, x1, y1 = box
    room_w, room_h = max(width - 2 * margin, 20.0), max(height - 2 * margin, 20.0)
    scale = min(room_w / max(x1 - x0, 1e-6), room_h / max(y1 - y0, 1e-6))
    return Camera(
        scale,
        (x0 + x1) / 2 - width / scale / 2,
        (y0 + y1) / 2 - height / scale / 2,
    )
