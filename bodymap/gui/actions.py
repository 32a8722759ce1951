"""All actions of the window as one table: what they are called, where they stand,
which keys call them. ``window`` connects them by the name of a method, and shows their
words in the language in hand."""

from dataclasses import dataclass

from bodymap.gui.choices import CHANGE_TIPS, INSTRUMENT_NAMES, INSTRUMENT_TIPS, Tool
from bodymap.language import tr
from bodymap.terms import Change, Modality


@dataclass(frozen=True)
class Row:
    """One action. ``call`` names a method of the window, ``value`` is passed to it.

    Actions of one ``group`` exclude each other. ``bar`` names the tool bar group that
    shows the action as well.
    """

    id: str
    text: str
    menu: str
    call: str
    keys: str = ""
    tip: str = ""
    value: object = None
    group: str = ""
    bar: str = ""
    icon: str = ""
    toggles: bool = False


MENUS = ("&File", "&Edit", "&Mark", "&View", "&Help")

TOOL_TIPS = {
    Tool.BRUSH: "Paint with a round brush, over the edge of a limb to its other side; Alt erases, "
    "Shift stays on this side",
    Tool.ERASER: "Take findings of this instrument off the skin",
    Tool.OUTLINE: "Draw round some skin; the line closes itself. Alt erases, Shift goes on over "
    "the edge to the other side",
    Tool.STRAIGHT: "Click corners round some skin; a double click or Enter closes it. Alt "
    "erases, Shift goes on over the edge to the other side",
    Tool.TERRITORY: "Mark the whole dermatome, nerve territory or region of the overlay with "
    "one click; Alt clears it",
    Tool.REGION: "Mark a whole named region with one click; Alt clears it",
}

TEXT_STEP = 1.1
"""One step of larger text."""

OVERLAYS = (("None", None, "0"), ("Dermatomes", "dermatomes", "1"), ("Nerves", "nerves", "2"),
            ("Named regions", "regions", "3"))  # fmt: skip

CLOSE_UP_KEYS = {
    "right-palm": "F5", "left-palm": "F6", "right-hand-back": "F7", "left-hand-back": "F8",
    "feet-top": "F9", "soles": "F10", "face": "F11", "saddle": "F12",
}  # fmt: skip

TABLE: tuple[Row, ...] = (
    Row("new", "&New case", "&File", "new_case", "Ctrl+N", "Start an empty case"),
    Row("open", "&Open…", "&File", "open_case", "Ctrl+O", "Open a case file"),
    Row("save", "&Save", "&File", "save_case", "Ctrl+S", "Save the case"),
    Row("save-as", "Save &as…", "&File", "save_case_as", "Ctrl+Shift+S", "Save under a new name"),
    Row("picture", "Save &picture…", "&File", "save_picture", "Ctrl+E",
        "Write what the figure shows as PNG, SVG or PDF"),
    Row("slides", "Save s&lides…", "&File", "save_slides", "Ctrl+Shift+E",
        "Write a deck of teaching slides with shapes that can be edited"),
    Row("handout-arm", "Save a handout: arm…", "&File", "save_handout", "Ctrl+Alt+A",
        "One page with the roots and nerves of the arm, and how to tell them apart", "arm"),
    Row("handout-leg", "Save a handout: leg…", "&File", "save_handout", "Ctrl+Alt+L",
        "One page with the roots and nerves of the leg, and how to tell them apart", "leg"),
    Row("note", "Save the c&hart note…", "&File", "save_note", "Ctrl+Alt+N",
        "Write the chart note of the case as text, Markdown or PDF"),
    Row("print", "Prin&t…", "&File", "print_picture", "Ctrl+P", "Print what the figure shows"),
    Row("quit", "&Quit", "&File", "close", "Ctrl+Q"),
    Row("undo", "&Undo", "&Edit", "undo", "Ctrl+Z"),
    Row("redo", "&Redo", "&Edit", "redo", "Ctrl+Shift+Z"),
    Row("mirror", "&Mirror to the other side", "&Edit", "mirror", "Ctrl+M",
        "Put all findings on the other side of the patient"),
    Row("smooth", "S&mooth the drawn skin", "&Edit", "smooth", "Ctrl+L",
        "Take notches and spikes off what is drawn with this instrument"),
    Row("change-here", "Change what was &found here", "&Edit", "change_here", "C",
        "Give the piece of skin under the pointer the finding in hand"),
    Row("copy", "&Copy ranking as text", "&Edit", "copy_ranking", "Ctrl+Shift+C"),
    Row("copy-note", "Copy the chart &note", "&Edit", "copy_note", "Ctrl+Shift+N",
        "Copy the chart note of the case as text"),
    Row("copy-short-note", "Copy the s&hort note", "&Edit", "copy_short_note", "Ctrl+Alt+Shift+N",
        "Copy the short form of the chart note as text"),
    Row("copy-picture", "Copy &picture", "&Edit", "copy_picture", "Ctrl+Shift+P",
        "Copy what the figure shows as a picture"),
    *(
        Row(f"modality-{m}", INSTRUMENT_NAMES[m], "&Mark", "choose_modality",
            f"Ctrl+{number}", INSTRUMENT_TIPS[m], m, "modality", "Instrument", m.instrument)
        for number, m in enumerate(Modality, start=1)
    ),
    *(
        Row(f"change-{c}", c.value.capitalize(), "&Mark", "choose_change",
            f"Alt+{number}", CHANGE_TIPS[c], c, "change", "Found")
        for number, c in enumerate(Change, start=1)
    ),
    *(
        Row(f"tool-{t}", t.value.capitalize(), "&Mark",
            "choose_tool", key, TOOL_TIPS[t], t, "tool", "Tool", t.value)
        for t, key in (
            (Tool.BRUSH, "B"), (Tool.ERASER, "E"), (Tool.OUTLINE, "O"), (Tool.STRAIGHT, "G"),
            (Tool.REGION, "R"), (Tool.TERRITORY, "T"),
        )
    ),
    Row("by-keys", "Draw by &keyboard", "&Mark", "draw_by_keys", "K",
        "Arrows lead a hand over the figure, Space sets it down and lifts it, Delete takes "
        "away, Enter closes a line", toggles=True),
    Row("smaller", "Smaller brush", "&Mark", "size_brush", "[", value=-1),
    Row("larger", "Larger brush", "&Mark", "size_brush", "]", value=1),
    *(
        Row(f"overlay-{name or 'none'}", text, "&View", "choose_overlay", key, "", name, "overlay")
        for text, name, key in OVERLAYS
    ),
    Row("zoom-in", "Zoom &in", "&View", "zoom_by", "Ctrl++", value=1.25),
    Row("zoom-out", "Zoom &out", "&View", "zoom_by", "Ctrl+-", value=0.8),
    Row("fit", "&Whole body", "&View", "fit", "F", "Show the whole body", bar="Look"),
    Row("pin", "&Pin the candidate", "&View", "pin", "P",
        "Keep the chosen candidate on top of the list while you paint, or let it go"),
    Row("deselect", "&Clear the candidate", "&View", "deselect", "Esc",
        "Show the findings again"),
    Row("theme", "&Light or dark", "&View", "toggle_theme", "Ctrl+D"),
    Row("examination", "Guided &examination", "&View", "toggle_panel", "Ctrl+B",
        "The whole sensory examination, one question after another", "examination"),
    Row("levels", "&Levels and key muscles", "&View", "toggle_panel", "Ctrl+Shift+B",
        "Sensory and motor levels by ISNCSCI, with key muscles and sacral findings", "levels"),
    Row("find", "&Find on the figure", "&View", "toggle_panel", "Ctrl+F",
        "Find any region, segment, nerve or lesion and see where it is", "find"),
    Row("regions", "Named &regions", "&View", "toggle_panel", "Ctrl+R",
        "The list of named regions, for the keyboard", "regions"),
    Row("signs", "&Muscles and reflexes", "&View", "toggle_panel", "Ctrl+G",
        "Note weak muscles and changed reflexes; they move the ranking", "signs"),
    Row("dictation", "&Dictate a finding", "&View", "toggle_panel", "Ctrl+I",
        "Type a finding in words and draw it; read the drawing in words", "dictation"),
    Row("visits", "&Visits", "&View", "toggle_panel", "Ctrl+Shift+V",
        "The visits of this case by date; two of them laid over each other", "visits"),
    Row("compare", "Root against &nerve", "&View", "toggle_panel", "Ctrl+K",
        "Compare roots, nerves and plexus parts on the figure", "compare"),
    Row("plexus", "Cut a &plexus", "&View", "toggle_panel", "Ctrl+Shift+K",
        "A plexus as a graph: cut a trunk, cord or nerve, and the skin answers", "plexus"),
    Row("practice", "P&ractice", "&View", "toggle_panel", "Ctrl+T",
        "A simulated patient with a hidden lesion answers you", "practice"),
    Row("text-larger", "&Larger text", "&View", "scale_text", "Ctrl+Alt++", value=TEXT_STEP),
    Row("text-smaller", "S&maller text", "&View", "scale_text", "Ctrl+Alt+-",
        value=1 / TEXT_STEP),
    Row("numbers", "What the &numbers mean", "&Help", "explain_numbers", "Shift+F1"),
    Row("about", "&What bodymap does, and does not", "&Help", "about", "F1"),
)  # fmt: skip


def shown(row: Row) -> str:
    """What an action is called in the language in hand."""
    return tr(row.text, "overlay") if row.group == "overlay" else tr(row.text)
