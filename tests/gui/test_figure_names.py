"""Which names stand on the figure of the window, nearer and farther."""

from bodymap.atlas import Atlas
from bodymap.gui.body_picture import BodyPicture
from bodymap.gui.camera import showing
from bodymap.gui.sheet_view import SHEET
from bodymap.report.layout import BODY_LAYOUT
from bodymap.terms import View


def test_the_whole_trunk_is_named_when_the_whole_body_is_shown(atlas: Atlas) -> None:
    """At 1280 by 800 the canvas has about 834 by 612 pixels for the whole sheet."""
    picture = BodyPicture(atlas)
    camera = showing(SHEET, 834, 612)
    for view in (View.FRONT, View.BACK):
        scale = camera.scale * BODY_LAYOUT[view].scale
        written = {fit.lines[0] for fit in picture.names(view, "dermatomes", scale)}
        assert {*(f"T{n}" for n in range(2, 13)), "L1"} <= written
    # Nearer, each side has its own name again.
    near = [f.lines[0] for f in picture.names(View.BACK, "dermatomes", 3 * scale)]
    assert near.count("T6") == 2
