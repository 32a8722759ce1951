"""The bedside record as a value: what was asked and answered, place by place.

It keeps the shape of ``record`` in a case file (``record_form``), so that nothing of a
file is lost and there is one form to know. A *place* is a path of field names:
("light_touch", "right", "C6"). What stands at no place was not examined.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from bodymap.classification.reading import read_scores
from bodymap.classification.scores import Record as Scores
from bodymap.language import tr

Path = tuple[str, ...]

SIDED = (
    "light_touch", "pinprick", "motor", "lowest_non_key", "temperature", "vibration",
    "joint_position", "monofilament", "two_point",
)  # fmt: skip
"""Parts with a right and a left."""

_OTHER = {"right": "left", "left": "right"}


@dataclass(frozen=True)
class BedsideRecord:
    """The record of one visit. ``fields`` is never changed in place."""

    fields: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))

    def __bool__(self) -> bool:
        return bool(self.fields)

    def at(self, *path: str) -> Any:
        """What stands at a place, or None."""
        value: Any = self.fields
        for name in path:
            if not isinstance(value, Mapping) or name not in value:
                return None
            value = value[name]
        return value

    def with_value(self, path: Path, value: Any) -> "BedsideRecord":
        """The record with another value at a place; None leaves the place empty."""
        return BedsideRecord(MappingProxyType(_put(self.fields, path, value)))

    def mirrored(self) -> "BedsideRecord":
        """The record of the mirror image: right and left change places everywhere."""
        fields = dict(self.fields)
        for part in SIDED:
            if isinstance(fields.get(part), Mapping):
                fields[part] = _swapped(fields[part])
        if isinstance(fields.get("quality"), Mapping):
            fields["quality"] = {k: _swapped(v) for k, v in fields["quality"].items()}
        if "sharp_dull" in fields:
            runs = fields["sharp_dull"]
            fields["sharp_dull"] = [run | {"side": _OTHER[run["side"]]} for run in runs]
        for notes in ("reasons", "remarks"):
            if notes in fields:
                fields[notes] = {_other_step(k): v for k, v in fields[notes].items()}
        return BedsideRecord(MappingProxyType(fields))

    @property
    def scores(self) -> Scores:
        """The scores, grades and anal findings, for the classification."""
        return read_scores(self.fields, tr("the record"))


def _put(old: Mapping[str, Any], path: Path, value: Any) -> dict[str, Any]:
    new = dict(old)
    name, rest = path[0], path[1:]
    if rest:
        inner = new.get(name)
        value = _put(inner if isinstance(inner, Mapping) else {}, rest, value) or None
    if value is None:
        new.pop(name, None)
    else:
        new[name] = value
    return new


def _swapped(sides: Mapping[str, Any]) -> dict[str, Any]:
    return {_OTHER.get(side, side): value for side, value in sides.items()}


def _other_step(step: str) -> str:
    return " ".join(_OTHER.get(word, word) for word in step.split(" "))
