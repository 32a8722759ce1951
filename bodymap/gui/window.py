"""The window: puts canvas, bars and panels together and answers the actions."""

from collections.abc import Callable
from functools import partial
from typing import Any

from PySide6.QtGui import (
    QAction,
    QActionGroup,
    QGuiApplication,
    QKeySequence,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QApplication, QLabel, QMenu, QVBoxLayout, QWidget

from bodymap.findings.samples import sample_files
from bodymap.gui.actions import CLOSE_UP_KEYS, MENUS, TABLE, Row, shown
from bodymap.gui.background import Background
from bodymap.gui.bars import Bars
from bodymap.gui.canvas import Canvas
from bodymap.gui.case_commands import CaseCommands
from bodymap.gui.figure_commands import FigureCommands
from bodymap.gui.icons import icon, swatch
from bodymap.gui.keeping import Keeping
from bodymap.gui.language_choice import LanguageMenu, keys_shown
from bodymap.gui.palettes import palette, sheet, system_theme
from bodymap.gui.panels import Panels
from bodymap.gui.questions import Questions
from bodymap.gui.restore_bar import RestoreBar
from bodymap.gui.session import Session
from bodymap.gui.takings import Takings
from bodymap.language import languages, tr
from bodymap.report.appearance import CHANGE_STYLES, DARK, LIGHT, Theme
from bodymap.report.cautions import CAUTION_LONG, CONSENT, NUMBERS, URGENT
from bodymap.report.layout import close_ups, sheet_box
from bodymap.report.places import NamedPlace
from bodymap.terms import Change

REVEALING = (
    "copy", "picture", "slides", "print", "copy-picture", "regions", "signs", "mirror", "smooth",
    "change-here", "open", "compare", "plexus", "find", "dictation", "visits",
    "examination", "levels", "pin", "note", "copy-note", "copy-short-note",
)  # fmt: skip
"""Actions that would give a hidden lesion away, or draw in the patient's place."""

TEXT_SMALLEST, TEXT_LARGEST = 7.0, 24.0
"""Limits of the text size, points."""


class Window(CaseCommands, FigureCommands):
    """The one window. ``questions`` asks for files and about unsaved work."""

    def __init__(
        self, session: Session, questions: Questions | None = None, theme: Theme | None = None
    ) -> None:
        super().__init__()
        self.session = session
        self.questions = questions or Questions(self)
        self.theme = theme or system_theme()
        if theme is None:
            hints = QGuiApplication.styleHints()
            hints.colorSchemeChanged.connect(self._follow_system)
        self.canvas = Canvas(session)
        self.restore_bar = RestoreBar()
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.restore_bar)
        column.addWidget(self.canvas, 1)
        self.setCentralWidget(middle)
        self.keeping: Keeping | None = None
        self.takings = Takings(session)
        self.actions_by_id: dict[str, QAction] = {}
        self._menus: dict[str, QMenu] = {}
        self._make_actions()
        self.bars = Bars(self, session, self.actions_by_id, self.close_up_menu)
        self.panels = Panels(self, session)
        self.panels.looked_for.connect(self._look_at_place)
        self.panels.note_wanted.connect(lambda: self.copy_note())
        self.panels.ranking.sample_wanted.connect(self._open_named_sample)
        self.panels.practising_changed.connect(self._practise)
        self._place = QLabel()
        self._place.setAccessibleName(tr("Under the pointer"))
        self.statusBar().addWidget(self._place, 1)
        self.background = Background()
        self.statusBar().addPermanentWidget(self.background)
        self.setAcceptDrops(True)
        self.canvas.pointed.connect(self._place.setText)
        self.canvas.findings_wanted.connect(self.panels.show_findings)
        session.told.connect(self._tell)
        session.atlas_ready.connect(self._add_close_ups)
        session.choices_changed.connect(self._show_choices)
        session.drawing_changed.connect(self._show_history)
        session.case_changed.connect(self._show_title)
        self._show_choices()
        self._show_history()
        self._show_title()
        self.set_theme(self.theme)
        self.resize(1280, 800)

    # Actions

    def _make_actions(self) -> None:
        groups: dict[str, QActionGroup] = {}
        for title in MENUS:
            self._menus[title] = self.menuBar().addMenu(tr(title))
        for row in TABLE:
            action = QAction(shown(row), self)
            action.setObjectName(row.id)
            action.setShortcut(QKeySequence(row.keys))
            words = tr(row.tip) or shown(row).replace("&", "")
            action.setToolTip(f"{words} ({keys_shown(row.keys)})")
            action.triggered.connect(self._caller(row))
            action.setCheckable(bool(row.group) or row.toggles)
            if row.group:
                group = groups.setdefault(row.group, QActionGroup(self))
                group.addAction(action)
            self._menus[row.menu].addAction(action)
            self.actions_by_id[row.id] = action
        samples = QMenu(tr("Sa&mples"), self)
        for path in sample_files():
            title = tr(path.stem.replace("-", " ").capitalize())
            action = samples.addAction(title)
            action.triggered.connect(partial(self._open_sample, path))
        self._menus["&File"].insertMenu(self.actions_by_id["save"], samples)
        self.close_up_menu = QMenu(tr("&Close-ups"), self)
        self._menus["&View"].insertMenu(self.actions_by_id["deselect"], self.close_up_menu)
        self._menus["&View"].addMenu(LanguageMenu(self.choose_language, self))

    def add_recent_menu(self, menu: QMenu) -> None:
        """Put the menu of recent cases after the samples."""
        self._menus["&File"].insertMenu(self.actions_by_id["save"], menu)

    def _caller(self, row: Row) -> Callable[[], None]:
        method: Callable[..., Any] = getattr(self, row.call)
        if row.value is None and row.group != "overlay":
            return lambda: method()
        return lambda: method(row.value)

    def _add_close_ups(self) -> None:
        atlas = self.session.atlas
        for close_up in close_ups(atlas).values() if atlas else ():
            action = self.close_up_menu.addAction(tr(close_up.label))
            action.setObjectName(f"close-up-{close_up.id}")
            action.setShortcut(QKeySequence(CLOSE_UP_KEYS.get(close_up.id, "")))
            box, label = close_up.on_sheet, close_up.id
            action.triggered.connect(partial(self._look_at, box, label))
            self.addAction(action)

    def _look_at(
        self, box: tuple[float, float, float, float], id_: str, _checked: bool = False
    ) -> None:
        self.canvas.show_box(box)
        if id_ == "saddle":
            self.session.tell(tr(CONSENT))

    def _look_at_place(self, place: NamedPlace) -> None:
        """Enlarge a place that is small; show the whole body for one that is not."""
        box = sheet_box(self.session.atlas, place.skin) if self.session.atlas else None
        if box is None:
            self.canvas.fit()
        else:
            self.canvas.show_box(box)

    def choose_language(self, code: str) -> None:
        """Speak another language from the next start on."""
        if self.keeping is not None:
            self.keeping.language_chosen(code)
        name = languages()[code]
        self.session.tell(tr("{language} will be spoken at the next start.", language=name))

    def toggle_theme(self) -> None:
        """Change between light and dark."""
        self.set_theme(LIGHT if self.theme.dark else DARK)
        if self.keeping is not None:
            self.keeping.theme_chosen(self.theme.dark)

    def _practise(self, on: bool) -> None:
        """While a hidden lesion is looked for, clicks touch the patient and nothing that
        would give the answer away can be called."""
        self.canvas.cancel_stroke()
        self.session.practising = on
        self.canvas.toucher = self.panels.practice.touched if on else None
        self.panels.practising(on)
        for id_ in REVEALING:
            self.actions_by_id[id_].setEnabled(not on)
        self.canvas.marks_changed()

    def toggle_panel(self, name: str) -> None:
        """Show or hide one of the panels beside the figure."""
        self.panels.toggle(name)

    def scale_text(self, factor: float) -> None:
        """Make all text of the window larger or smaller."""
        app = QApplication.instance()
        if isinstance(app, QApplication):
            font = app.font()
            size = min(max(font.pointSizeF() * factor, TEXT_SMALLEST), TEXT_LARGEST)
            font.setPointSizeF(size)
            app.setFont(font)
            # The style sheet has its own sizes; it follows when it is set anew.
            self.set_theme(self.theme)
            self._refit()
            if self.keeping is not None:
                self.keeping.text_scaled(size)

    def _refit(self) -> None:
        """Let bars and panels have the room that the text asks for."""
        self.bars.wrap(self.width())
        self.panels.refit()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._refit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.bars.wrap(self.width())

    def explain_numbers(self) -> None:
        """Say what support, explained, involved and bits are."""
        self.questions.inform(tr("What the numbers mean"), tr(NUMBERS))

    def about(self) -> None:
        """Say what bodymap is for and what it cannot do."""
        words = f"{tr(CAUTION_LONG)}\n\n{tr(URGENT)}"
        self.questions.inform(tr("What bodymap does, and does not"), words)

    # What the session says

    def _tell(self, sentence: str, failure: bool) -> None:
        self.statusBar().showMessage(sentence, 20000 if failure else 6000)

    def _show_choices(self) -> None:
        chosen = self.session.choices
        for id_ in (
            f"modality-{chosen.modality}",
            f"change-{chosen.change}",
            f"tool-{chosen.tool}",
            f"overlay-{chosen.overlay or 'none'}",
        ):
            self.actions_by_id[id_].setChecked(True)
        self.actions_by_id["by-keys"].setChecked(chosen.by_keys)

    def _show_history(self) -> None:
        history = self.session.history
        for id_, name, word in (
            ("undo", history.undo_name, tr("&Undo")),
            ("redo", history.redo_name, tr("&Redo")),
        ):
            action = self.actions_by_id[id_]
            action.setEnabled(name is not None)
            action.setText(f"{word}: {name}" if name else word)

    def _show_title(self) -> None:
        path = self.session.path
        self.setWindowTitle(f"{path.name if path else tr('New case')}[*] — bodymap")
        self.setWindowModified(self.session.dirty)

    def _follow_system(self) -> None:
        self.set_theme(system_theme())

    def set_theme(self, theme: Theme) -> None:
        """Show the whole window in a theme."""
        self.theme = theme
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.setPalette(palette(theme))
            app.setStyleSheet(sheet(theme))
        for row in TABLE:
            if row.icon:
                self.actions_by_id[row.id].setIcon(icon(row.icon, theme.text))
        for change in Change:
            style = CHANGE_STYLES[change]
            self.actions_by_id[f"change-{change}"].setIcon(swatch(style, theme))
        self.canvas.set_theme(theme)
        self.panels.set_theme(theme)
