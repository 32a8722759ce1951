"""Colour arithmetic: sRGB, luminance and contrast, and even steps of hue and lightness.

Contrast follows WCAG 2.1 (W3C 2018, relative luminance and success criteria 1.4.3
and 1.4.11). Even steps use OKLCH (CSS Color 4, W3C 2022, section 9; matrices by
B. Ottosson 2020, from memory). Colours are '#rrggbb'.
"""

import math

TEXT_CONTRAST = 4.5
"""WCAG 2.1, 1.4.3: least contrast of text."""

MARK_CONTRAST = 3.0
"""WCAG 2.1, 1.4.11: least contrast of a mark that carries meaning."""


def channels(colour: str) -> tuple[float, float, float]:
    """Red, green, blue, each 0 to 1."""
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return red, green, blue


def spelled(red: float, green: float, blue: float) -> str:
    """'#rrggbb' of channels; what lies outside 0 to 1 is cut off."""
    parts = (round(255 * min(max(c, 0.0), 1.0)) for c in (red, green, blue))
    return "#" + "".join(f"{p:02x}" for p in parts)


def over(colour: str, opacity: float, ground: str) -> str:
    """What is seen of a colour of some opacity laid over a ground."""
    pairs = zip(channels(colour), channels(ground), strict=True)
    red, green, blue = (opacity * c + (1 - opacity) * g for c, g in pairs)
    return spelled(red, green, blue)


def luminance(colour: str) -> float:
    """Relative luminance, 0 (black) to 1 (white)."""
    red, green, blue = (_linear(c) for c in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def oklch(lightness: float, chroma: float, hue: float) -> str:
    """The colour of a lightness (0 to 1), chroma (0 to about .3) and hue (degrees)."""
    a = chroma * math.cos(math.radians(hue))
    b = chroma * math.sin(math.radians(hue))
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    medium = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    return spelled(
        _encoded(4.0767416621 * long - 3.3077115913 * medium + 0.2309699292 * short),
        _encoded(-1.2684380046 * long + 2.6097574011 * medium - 0.3413193965 * short),
        _encoded(-0.0041960863 * long - 0.7034186147 * medium + 1.7076147010 * short),
    )


def difference(one: str, other: str) -> float:
    """How far apart two colours look: distance in OKLab times 100 (2 is just seen)."""
    return 100 * math.dist(_oklab(one), _oklab(other))


def _oklab(colour: str) -> tuple[float, float, float]:
    red, green, blue = (_linear(c) for c in channels(colour))
    long = math.cbrt(0.4122214708 * red + 0.5363325363 * green + 0.0514459929 * blue)
    medium = math.cbrt(0.2119034982 * red + 0.6806995451 * green + 0.1073969566 * blue)
    short = math.cbrt(0.0883024619 * red + 0.2817188376 * green + 0.6299787005 * blue)
    return (
        0.2104542553 * long + 0.7936177850 * medium - 0.0040720468 * short,
        1.9779984951 * long - 2.4285922050 * medium + 0.4505937099 * short,
        0.0259040371 * long + 0.7827717662 * medium - 0.8086757660 * short,
    )


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def _encoded(channel: float) -> float:
    if channel <= 0.0031308:
        return 12.92 * channel
    return float(1.055 * channel ** (1 / 2.4) - 0.055)
