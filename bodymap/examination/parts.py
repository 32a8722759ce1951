"""The parts of the sensory examination in their usual order, with method and caution."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from bodymap.atlas.assets import assets_folder, table
from bodymap.language import tr
from bodymap.terms import Modality


class Part(StrEnum):
    """A part of the examination; the value is its id in ``assets/examination/parts.csv``."""

    LIGHT_TOUCH = "light-touch"
    PINPRICK = "pinprick"
    SHARP_DULL = "sharp-dull"
    TEMPERATURE = "temperature"
    VIBRATION = "vibration"
    JOINT_POSITION = "joint-position"
    ROMBERG = "romberg"
    MONOFILAMENT = "monofilament"
    TWO_POINT = "two-point"

    @property
    def field(self) -> str:
        """The field of the record that holds its answers."""
        return self.value.replace("-", "_")

    @property
    def modality(self) -> Modality | None:
        """The modality that its answers are drawn in, if they are drawn."""
        return Modality(self.value) if self.value in list(Modality) else None

    @property
    def method(self) -> "Method":
        """How it is done."""
        return methods()[self]


@dataclass(frozen=True)
class Method:
    """How a part is done. ``usual`` says whether it belongs to every examination."""

    english_title: str
    english_hint: str
    english_caution: str
    usual: bool

    @property
    def caution(self) -> str:
        """What to mind, or nothing."""
        return tr(self.english_caution)

    @property
    def hint(self) -> str:
        """How it is done, in a sentence or two."""
        return tr(self.english_hint)

    @property
    def title(self) -> str:
        """What the part is called."""
        return tr(self.english_title)


@cache
def methods() -> dict[Part, Method]:
    """The method of every part, in the usual order."""
    return {
        Part(row["id"]): Method(row["title"], row["hint"], row["caution"], row["usual"] == "yes")
        for row in table(assets_folder(), "parts", "examination")
    }
