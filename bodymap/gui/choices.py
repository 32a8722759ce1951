"""What the examiner has in hand: instrument, change, tool, brush, and what is overlaid.

Values only; the session keeps the one that is current. Knows no Qt.
"""

from dataclasses import dataclass
from enum import StrEnum

from bodymap.language import later
from bodymap.terms import Change, MapName, Modality

BRUSH_LEAST, BRUSH_MOST = 4.0, 120.0
"""Brush diameter on the canvas, device-independent pixels."""

BRUSH_STEP = 1.2
"""One key press or wheel notch makes the brush this many times larger."""


class Tool(StrEnum):
    """How skin is marked."""

    BRUSH = "brush"
    ERASER = "eraser"
    OUTLINE = "outline"
    STRAIGHT = "straight"
    REGION = "region"
    TERRITORY = "territory"


@dataclass(frozen=True)
class Choices:
    """Everything chosen in the window that is not part of the case."""

    modality: Modality = Modality.PINPRICK
    change: Change = Change.REDUCED
    tool: Tool = Tool.BRUSH
    brush: float = 22.0
    overlay: MapName | None = "dermatomes"
    overlay_strength: float = 0.6
    others: float = 0.45
    """Opacity of findings of an instrument that is not in hand."""
    by_keys: bool = False
    """Whether keys lead the hand over the figure, in the place of a pointer."""


def resized(brush: float, steps: float) -> float:
    """A brush made larger (or smaller) by so many steps, within its limits."""
    size: float = brush * BRUSH_STEP**steps
    return min(max(size, BRUSH_LEAST), BRUSH_MOST)


CHANGE_TIPS: dict[Change, str] = {
    Change.REDUCED: later("Felt less than on normal skin"),
    Change.ABSENT: later("Not felt at all"),
    Change.INCREASED: later("Felt more, or painful"),
    Change.TINGLING: later("Tingling or altered feeling reported there"),
    Change.NORMAL: later("Tested and found normal"),
}

INSTRUMENT_NAMES: dict[Modality, str] = {
    Modality.LIGHT_TOUCH: later("Cotton"),
    Modality.PINPRICK: later("Pin"),
    Modality.TEMPERATURE: later("Cold"),
    Modality.VIBRATION: later("Fork"),
    Modality.JOINT_POSITION: later("Joint"),
}

INSTRUMENT_TIPS: dict[Modality, str] = {
    Modality.LIGHT_TOUCH: later("Light touch, with a wisp of cotton"),
    Modality.PINPRICK: later("Pinprick, with a clean pin used once"),
    Modality.TEMPERATURE: later("Temperature, with something cold"),
    Modality.VIBRATION: later("Vibration, with a 128 Hz tuning fork"),
    Modality.JOINT_POSITION: later("Joint position sense"),
}
