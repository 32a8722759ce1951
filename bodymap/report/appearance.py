"""What everything looks like: two themes, findings and remainders by colour and texture.

Data only. Colour is never the only signal: each change and each remainder has a
texture of its own (see ``textures``) and its word in the legend. Colours that
carry meaning are published colour-blind-safe values:

TOL   Paul Tol, Colour Schemes, technical note SRON/EPS/TN/09-002, issue 3.2, 2021
      (schemes bright, vibrant, muted, light, dark; values from memory).
OI    M. Okabe and K. Ito, Color Universal Design, 2002, revised 2008 (values from
      memory).
"""

from dataclasses import dataclass
from enum import StrEnum

from bodymap.language import later
from bodymap.terms import Change, Modality


@dataclass(frozen=True)
class Theme:
    """Colours ('#rrggbb') of everything that is not a finding.

    canvas: behind the figure. panel, panel_border: boxes beside and around it.
    skin, skin_shade (the soft edge), outline, inner_line: the figure. halo: a soft
    ground behind names that stand on skin. territory_border, territory_text: the
    overlay; territory_opacity its fills at full strength.
    """

    name: str
    dark: bool
    canvas: str
    panel: str
    panel_border: str
    skin: str
    skin_shade: str
    outline: str
    inner_line: str
    halo: str
    text: str
    muted_text: str
    territory_border: str
    territory_text: str
    territory_opacity: float
    accent: str
    accent_text: str
    warning: str
    shapes: tuple[tuple[str, str], ...]
    """(kind of soft shape, colour): nail, lip, areola, shadow, light."""

    def shape_colour(self, kind: str) -> str:
        """Colour of a kind of soft shape; the soft edge's colour for an unknown one."""
        return dict(self.shapes).get(kind, self.skin_shade)


LIGHT = Theme(
    name="light",
    dark=False,
    canvas="#ffffff",
    panel="#f6f5f3",
    panel_border="#d9d5cf",
    skin="#f3ebe3",
    skin_shade="#cdbcab",
    outline="#3c3f49",
    inner_line="#a3978a",
    halo="#fbf8f5",
    text="#24272d",
    muted_text="#5c6069",
    territory_border="#6f665e",
    territory_text="#3a3733",
    territory_opacity=0.72,
    accent="#1f5f8b",
    accent_text="#ffffff",
    warning="#8c3b00",
    shapes=(
        ("nail", "#fbf5ef"),
        ("lip", "#dfbcae"),
        ("areola", "#d3b09d"),
        ("shadow", "#d8cabc"),
        ("light", "#fbf6f1"),
    ),
)

DARK = Theme(
    name="dark",
    dark=True,
    canvas="#1d1f22",
    panel="#26292d",
    panel_border="#43474d",
    skin="#5a524b",
    skin_shade="#37322e",
    outline="#cfc8bf",
    inner_line="#8f857b",
    halo="#3a3531",
    text="#eceae6",
    muted_text="#b1b3b6",
    territory_border="#c0b6ab",
    territory_text="#fbf9f6",
    territory_opacity=0.8,
    accent="#7db8e0",
    accent_text="#14181c",
    warning="#f0b27a",
    shapes=(
        ("nail", "#6d645c"),
        ("lip", "#75564c"),
        ("areola", "#71574b"),
        ("shadow", "#453f3a"),
        ("light", "#696059"),
    ),
)

THEMES: dict[str, Theme] = {t.name: t for t in (LIGHT, DARK)}


@dataclass(frozen=True)
class MarkStyle:
    """How a kind of skin is marked: a colour for each theme, a texture, a word.

    ``texture`` names one of ``textures.TEXTURES``. ``fill`` is the opacity of the
    plain ground under the texture; ``dashed`` says that the edge is dashed.
    """

    label: str
    colour_light: str
    colour_dark: str
    texture: str
    fill: float
    dashed: bool = False

    def colour(self, theme: Theme) -> str:
        """The colour in a theme."""
        return self.colour_dark if theme.dark else self.colour_light


ChangeStyle = MarkStyle

CHANGE_STYLES: dict[Change, MarkStyle] = {
    # Loss is blue, deeper with its depth.  TOL vibrant blue; TOL light, light blue.
    Change.REDUCED: MarkStyle(later("reduced"), "#0077bb", "#77aadd", "slant", 0.30),
    # TOL muted indigo; TOL light, light cyan.
    Change.ABSENT: MarkStyle(later("absent"), "#332288", "#99ddff", "cross", 0.42),
    # OI vermillion; TOL light, orange.
    Change.INCREASED: MarkStyle(later("increased"), "#d55e00", "#ee8866", "dots", 0.26),
    # TOL muted purple; TOL light, pink.
    Change.TINGLING: MarkStyle(later("tingling"), "#aa4499", "#ffaabb", "wave", 0.24),
    # TOL dark scheme, green; TOL light, pear.
    Change.NORMAL: MarkStyle(later("normal"), "#225522", "#bbcc33", "dash", 0.10),
}


class Remainder(StrEnum):
    """How a piece of skin stands to the chosen candidate."""

    EXPLAINED = "explained"
    UNEXPLAINED = "unexplained"
    SPARED = "spared"


REMAINDER_STYLES: dict[Remainder, MarkStyle] = {
    # TOL bright green; TOL light, pear.
    Remainder.EXPLAINED: MarkStyle(
        later("drawn, and explained by it"), "#228833", "#bbcc33", "upright", 0.34
    ),
    # TOL vibrant magenta; TOL light, pink.
    Remainder.UNEXPLAINED: MarkStyle(
        later("drawn, but not explained by it"), "#ee3377", "#ffaabb", "plus", 0.34
    ),
    # TOL dark scheme, grey; TOL light, pale grey.
    Remainder.SPARED: MarkStyle(
        later("its territory, but not drawn"), "#555555", "#dddddd", "ring", 0.10, dashed=True
    ),
}

ALONE_STYLES: tuple[MarkStyle, ...] = (
    # TOL bright blue, yellow darkened, purple; TOL light, light blue, orange, pink.
    MarkStyle(later("only {name}"), "#4477aa", "#77aadd", "slant", 0.34),
    MarkStyle(later("only {name}"), "#997700", "#ee8866", "dots", 0.30),
    MarkStyle(later("only {name}"), "#aa3377", "#ffaabb", "wave", 0.30),
)
"""Skin of each of two or three compared lesions that no other takes."""

SHARED_STYLE = MarkStyle(later("shared by all"), "#225522", "#bbcc33", "cross", 0.42)
# TOL dark scheme, grey; TOL light, pale grey.
BY_TWO_STYLE = MarkStyle(later("shared by two"), "#555555", "#dddddd", "plus", 0.24, dashed=True)
"""Skin that compared lesions share."""


class Course(StrEnum):
    """What became of a piece of altered skin between two visits."""

    NEW = "new"
    GONE = "gone"
    UNCHANGED = "unchanged"
    UNCHECKED = "unchecked"


COURSE_STYLES: dict[Course, MarkStyle] = {
    # OI vermillion; TOL light, orange.
    Course.NEW: MarkStyle(later("new: altered now, not then"), "#d55e00", "#ee8866", "plus", 0.34),
    # TOL dark scheme, green; TOL light, pear.
    Course.GONE: MarkStyle(
        later("gone: altered then, not now"), "#225522", "#bbcc33", "ring", 0.10, dashed=True
    ),
    # TOL vibrant blue; TOL light, light blue.
    Course.UNCHANGED: MarkStyle(
        later("unchanged: altered then and now"), "#0077bb", "#77aadd", "slant", 0.30
    ),
    # TOL dark scheme, grey; TOL light, pale grey.
    Course.UNCHECKED: MarkStyle(
        later("altered, but examined at one visit only"),
        "#555555",
        "#dddddd",
        "dash",
        0.14,
        dashed=True,
    ),
}

MODALITY_LETTERS: dict[Modality, str] = {
    Modality.LIGHT_TOUCH: "T",
    Modality.PINPRICK: "P",
    Modality.TEMPERATURE: "C",
    Modality.VIBRATION: "V",
    Modality.JOINT_POSITION: "J",
}
"""A letter at each painted area where a picture shows more than one modality:
Touch, Pin, Cold, Vibration, Joint position. The legend spells them out."""

OUTLINE_WIDTH = 1.6
"""Stroke of the figure's outline, stature/1000."""

BORDER_WIDTH = 0.9
"""Stroke of a territory's border, stature/1000."""

MARK_WIDTH = 1.4
"""Stroke around marked skin, stature/1000."""

FONT_FAMILY = "DejaVu Sans, Noto Sans, Segoe UI, Helvetica, Arial, sans-serif"
"""Families asked for, in order; any plain sans serif will do."""
