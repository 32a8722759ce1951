"""What cannot be computed is told in one sentence, and changes nothing."""

from collections.abc import Iterator
from contextlib import contextmanager

import shapely

from bodymap.gui.session import Session
from bodymap.language import tr


@contextmanager
def computed(session: Session) -> Iterator[None]:
    """Do something with shapes. Set operations fail, rarely, on shapes that nearly coincide;
    raised out of an event such a failure would end the program."""
    try:
        yield
    except shapely.GEOSException:
        session.end_preview()
        session.tell(
            tr(
                "This shape could not be computed; nothing was changed. Draw it a little otherwise."
            ),
            failure=True,
        )
