"""How wide words are, without a font at hand, and how they break into lines.

Advance widths of DejaVu Sans (Book, version 2.37), read from the font with a font
library, in thousandths of the text size. DejaVu is a wide face: where another
plain sans serif is used, words come out narrower than told here, never wider.
"""

from itertools import combinations

WIDTHS: dict[str, int] = {
    character: width
    for width, characters in {
        275: "'",
        278: "ijl",
        295: "IJ",
        318: " ,.·’",
        337: "/:;\\|",
        352: "f",
        361: "-",
        390: "()[]",
        392: "t",
        401: "!²",
        411: "r",
        460: '"',
        500: "*_`°–",
        518: "“”„",
        521: "s",
        525: "z",
        531: "?",
        550: "c",
        557: "L",
        575: "F",
        579: "k",
        592: "vxy",
        603: "P",
        611: "TY",
        612: "oö",
        613: "aä",
        615: "eé",
        632: "E",
        630: "ß",
        634: "hnuü",
        635: "Sbdgpq",
        636: "$0123456789{}",
        656: "K",
        684: "AVÄ",
        685: "XZ",
        686: "B",
        695: "R",
        698: "C",
        732: "UÜ",
        748: "N",
        752: "H",
        770: "D",
        775: "G",
        780: "&",
        787: "OQÖ",
        818: "w",
        838: "#+<=>^~×≤±→",
        863: "M",
        950: "%",
        969: "½",
        974: "m",
        989: "W",
        1000: "@—…",
    }.items()
    for character in characters
}
"""Advance width of each character, 1/1000 of the text size."""

OTHER = 640
"""For a character that is not in the table."""

CAP_HEIGHT = 0.73
"""Height of capital letters and digits, share of the text size."""

LINE = 1.12
"""From one baseline to the next, share of the text size."""


def text_width(text: str, size: float) -> float:
    """Width of a line of text of a size (height of the em), in the unit of the size."""
    return sum(WIDTHS.get(c, OTHER) for c in text) * size / 1000


def wrapped(text: str, size: float, width: float) -> tuple[str, ...]:
    """The text in lines of at most ``width``; a single word may be longer."""
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", size) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return tuple(lines)


def broken(text: str, most: int = 4) -> tuple[tuple[str, ...], ...]:
    """The text in one line, two lines and so on, each as even as can be."""
    words = text.split()
    found = []
    for count in range(1, min(most, len(words)) + 1):
        ways = (
            tuple(
                " ".join(words[i:j]) for i, j in zip((0, *cuts), (*cuts, len(words)), strict=True)
            )
            for cuts in combinations(range(1, len(words)), count - 1)
        )
        found.append(min(ways, key=lambda lines: max(text_width(x, 1.0) for x in lines)))
    return tuple(found)
