"""The vocabulary of the sensory examination, as closed lists.

The values are the words of the case file, so a term is spelled once. ``label``
gives the same term as a clinician writes it.
"""

from enum import StrEnum
from typing import Literal

from bodymap.language import tr


class Side(StrEnum):
    """Side of the patient, never of the screen."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"

    @property
    def opposite(self) -> "Side":
        """The other side; both stays both."""
        return {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}.get(self, Side.BOTH)

    @property
    def word(self) -> str:
        """The side as it is read."""
        return {Side.LEFT: tr("left"), Side.RIGHT: tr("right"), Side.BOTH: tr("both")}[self]


class View(StrEnum):
    """A drawing of part of the skin, with coordinates of its own (y upwards).

    front, back: unit stature/1000, floor 0, vertex 1000, midline x = 0. The
    patient's left is at x > 0 in front and at x < 0 in back.
    soles: unit foot length/100, the patient's left at x > 0, toes up.
    head-left, head-right: unit head height/100, chin 0, vertex 100.
    saddle: a schematic seen from below, pubis on top, the patient's left at x > 0.
    """

    FRONT = "front"
    BACK = "back"
    SOLES = "soles"
    HEAD_LEFT = "head-left"
    HEAD_RIGHT = "head-right"
    SADDLE = "saddle"

    @property
    def label(self) -> str:
        """The view in words."""
        return {
            View.FRONT: tr("front"),
            View.BACK: tr("back"),
            View.SOLES: tr("soles"),
            View.HEAD_LEFT: tr("head, left side"),
            View.HEAD_RIGHT: tr("head, right side"),
            View.SADDLE: tr("saddle area (schematic)"),
        }[self]


class Modality(StrEnum):
    """What was tested. Each belongs to one instrument of the examination."""

    LIGHT_TOUCH = "light-touch"
    PINPRICK = "pinprick"
    TEMPERATURE = "temperature"
    VIBRATION = "vibration"
    JOINT_POSITION = "joint-position"

    @property
    def label(self) -> str:
        """The modality as it is written in a note."""
        return {
            Modality.LIGHT_TOUCH: tr("light touch"),
            Modality.PINPRICK: tr("pinprick"),
            Modality.TEMPERATURE: tr("temperature"),
            Modality.VIBRATION: tr("vibration"),
            Modality.JOINT_POSITION: tr("joint position"),
        }[self]

    @property
    def instrument(self) -> str:
        """What the examiner holds."""
        return {
            Modality.LIGHT_TOUCH: "cotton",
            Modality.PINPRICK: "pin",
            Modality.TEMPERATURE: "cold",
            Modality.VIBRATION: "fork",
            Modality.JOINT_POSITION: "joint",
        }[self]


class Change(StrEnum):
    """What was found on a piece of skin in one modality."""

    REDUCED = "reduced"
    ABSENT = "absent"
    INCREASED = "increased"
    TINGLING = "tingling"
    NORMAL = "normal"

    @property
    def altered(self) -> bool:
        """Whether this is anything but explicitly tested and normal."""
        return self is not Change.NORMAL

    @property
    def word(self) -> str:
        """The change as it is read."""
        return {
            Change.REDUCED: tr("reduced"),
            Change.ABSENT: tr("absent"),
            Change.INCREASED: tr("increased"),
            Change.TINGLING: tr("tingling"),
            Change.NORMAL: tr("normal"),
        }[self]


MapName = Literal["dermatomes", "nerves", "regions"]
MAP_NAMES: tuple[MapName, ...] = ("dermatomes", "nerves", "regions")

DERMATOMES: tuple[str, ...] = (
    "V1", "V2", "V3",
    *(f"C{n}" for n in range(2, 9)),
    *(f"T{n}" for n in range(1, 13)),
    *(f"L{n}" for n in range(1, 6)),
    *(f"S{n}" for n in range(1, 6)),
)  # fmt: skip
"""Head to foot. C1 has no skin of its own."""
