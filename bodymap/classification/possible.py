"""Which untested points bear on a result that they leave undetermined.

A point bears on it if some admissible value in its place changes the set of what the
result could be. Where no single point does, only a count of muscles is open that several
of them must decide together (two of three would have to reach 3): then all untested key
muscles bear on it, since any may be the one that tips the count [C].
"""

from collections.abc import Callable

from bodymap.classification.levels import Possible
from bodymap.classification.scores import Record, Untested, settled, untested


def settling(record: Record, find: Callable[[Record], Possible]) -> tuple[Untested, ...]:
    """The untested points that bear on what ``find`` finds, alone or together."""
    whole = set(find(record))
    if len(whole) == 1:
        return ()
    alone = tuple(
        point
        for point in untested(record)
        if any(set(find(other)) != whole for other in settled(record, point))
    )
    return alone or tuple(point for point in untested(record) if point.part == "motor")
