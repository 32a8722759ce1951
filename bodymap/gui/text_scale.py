"""How much larger text is than it was designed for, so that what holds text grows with it."""

from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QApplication

DESIGNED_PX = 14.0
"""Line height of the bundled font at 9 points, pixels: for this the window was drawn."""


def text_factor() -> float:
    """1 at the designed size of text, 2 where text is twice as high; never below 1."""
    return max(1.0, QFontMetricsF(QApplication.font()).height() / DESIGNED_PX)


def scaled(pixels: float) -> int:
    """A length in pixels that grows with the text."""
    return round(pixels * text_factor())
