"""The tool bars: instrument, what was found, tool, brush size, overlay, looks."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QComboBox,
    QLabel,
    QMainWindow,
    QMenu,
    QSlider,
    QToolBar,
    QToolButton,
    QWidget,
)

from bodymap.gui.actions import OVERLAYS, TABLE
from bodymap.gui.choices import BRUSH_LEAST, BRUSH_MOST
from bodymap.gui.session import Session


class Bars:
    """Two rows of tools that mirror the session's choices."""

    def __init__(
        self,
        window: QMainWindow,
        session: Session,
        actions: dict[str, QAction],
        close_ups: QMenu,
    ) -> None:
        self._session = session
        self._actions = actions
        finding = self._bar(window, "Finding")
        self._add_group(finding, "Instrument")
        self._add_group(finding, "Found")
        self._add_group(finding, "Look")
        self._menu(finding, "Close-up", close_ups)
        window.addToolBarBreak()
        tools = self._bar(window, "Tools")
        self._add_group(tools, "Tool")
        self.size = self._slider(tools, "Size", int(BRUSH_LEAST), int(BRUSH_MOST), "Brush size")
        self.overlay = QComboBox()
        self.overlay.setAccessibleName("Overlay")
        for text, name, _ in OVERLAYS:
            self.overlay.addItem(text, name)
        self._heading(tools, "Overlay")
        tools.addWidget(self.overlay)
        self.strength = self._slider(tools, "Strength", 5, 100, "Strength of the overlay")
        self.others = self._slider(tools, "Others", 0, 100, "Opacity of other instruments")
        self.size.valueChanged.connect(lambda value: session.choose(brush=float(value)))
        self.strength.valueChanged.connect(
            lambda value: session.choose(overlay_strength=value / 100)
        )
        self.others.valueChanged.connect(lambda value: session.choose(others=value / 100))
        self.overlay.activated.connect(
            lambda row: session.choose(overlay=self.overlay.itemData(row))
        )
        session.choices_changed.connect(self._show)
        self._show()

    @staticmethod
    def _bar(window: QMainWindow, title: str) -> QToolBar:
        bar = QToolBar(title)
        bar.setObjectName(title)
        bar.setMovable(False)
        bar.setIconSize(QSize(20, 20))
        bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        window.addToolBar(Qt.ToolBarArea.TopToolBarArea, bar)
        return bar

    @staticmethod
    def _menu(bar: QToolBar, words: str, menu: QMenu) -> None:
        button = QToolButton()
        button.setText(words)
        button.setAccessibleName(f"{words}: choose a part of the body")
        button.setToolTip("Look at a hand, foot, face, head or saddle enlarged (F5 to F12)")
        button.setMenu(menu)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        bar.addWidget(button)

    @staticmethod
    def _heading(bar: QToolBar, words: str) -> None:
        label = QLabel(words)
        label.setObjectName("heading")
        bar.addWidget(label)

    def _add_group(self, bar: QToolBar, group: str) -> None:
        if group != "Look":
            self._heading(bar, group)
        for row in TABLE:
            if row.bar == group:
                action = self._actions[row.id]
                bar.addAction(action)
                button = bar.widgetForAction(action)
                if isinstance(button, QToolButton):
                    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
                    words = row.text.replace("&", "")
                    button.setAccessibleName(words if group == "Look" else f"{group}: {words}")
        bar.addSeparator()

    def _slider(self, bar: QToolBar, words: str, least: int, most: int, name: str) -> QSlider:
        self._heading(bar, words)
        slider = QSlider(Qt.Orientation.Horizontal)
        slider.setRange(least, most)
        slider.setFixedWidth(64)
        slider.setAccessibleName(name)
        slider.setToolTip(name)
        bar.addWidget(slider)
        return slider

    def _show(self) -> None:
        chosen = self._session.choices
        for widget, value in (
            (self.size, round(chosen.brush)),
            (self.strength, round(chosen.overlay_strength * 100)),
            (self.others, round(chosen.others * 100)),
        ):
            self._quietly(widget)
            widget.setValue(value)
            widget.blockSignals(False)
        self.overlay.setCurrentIndex([name for _, name, _ in OVERLAYS].index(chosen.overlay))

    @staticmethod
    def _quietly(widget: QWidget) -> None:
        widget.blockSignals(True)
