"""The language of the window: taken when bodymap starts, chosen in a menu for the next start.

Not at once, because a window half in one language and half in another would be read as a
mistake, and every text that is already shown would have to be made anew.
"""

import os
from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QLibraryInfo, QLocale, Qt, QTranslator
from PySide6.QtGui import QActionGroup, QKeySequence
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from bodymap.gui.settings import read_settings
from bodymap.language import (
    ENGLISH,
    VARIABLE,
    language,
    languages,
    right_to_left,
    tr,
    use,
    wanted,
)


def take_language(app: QApplication) -> None:
    """Speak the language that was chosen, Qt's own buttons and menus with it.

    Raises RequestError where the environment names a language that there is not.
    """
    use(wanted(read_settings().language))
    if language() != ENGLISH:
        QLocale.setDefault(QLocale(language()))
        translator = QTranslator(app)
        folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
        if translator.load(f"qtbase_{language()}", folder):
            app.installTranslator(translator)
    lay_out(app)


def lay_out(app: QApplication) -> None:
    """Mirror the window for a language that is written from right to left."""
    rtl = right_to_left()
    ways = Qt.LayoutDirection
    app.setLayoutDirection(ways.RightToLeft if rtl else ways.LeftToRight)


def keep_sides(*widgets: QWidget) -> None:
    """Never mirror these: in them a place on the screen stands for a side of the patient,
    who faces the examiner, so that the patient's right is on the left in every language."""
    for widget in widgets:
        widget.setLayoutDirection(Qt.LayoutDirection.LeftToRight)


def keys_shown(keys: str) -> str:
    """A combination of keys as it is printed on the keyboards of the language in hand."""
    return QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)


class LanguageMenu(QMenu):
    """All languages, each by its own name, with a mark at the one in hand."""

    def __init__(self, choose: Callable[[str], None], parent: QWidget) -> None:
        super().__init__(tr("Lan&guage"), parent)
        group = QActionGroup(self)
        for code, name in languages().items():
            action = self.addAction(name)
            action.setObjectName(f"language-{code}")
            action.setCheckable(True)
            action.setChecked(code == language())
            action.triggered.connect(partial(self._chosen, choose, code))
            group.addAction(action)
        # What the environment names is not overruled by a click.
        self.setEnabled(not os.environ.get(VARIABLE))

    @staticmethod
    def _chosen(choose: Callable[[str], None], code: str, _checked: bool = False) -> None:
        choose(code)
