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
from bodymap.language import tr


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
        self._window = window
        self._bars: list[QToolBar] = []
        self._add_group(self._bar("Instrument"), "Instrument")
        self._add_group(self._bar("Found"), "Found")
        looks = self._bar("Look")
        self._add_group(looks, "Look")
        self._menu(looks, tr("Close-up"), close_ups)
        self._second_row = self._bar("Tool")
        self._add_group(self._second_row, "Tool")
        tools = self._bar("Size and overlay")
        self.size = self._slider(
            tools, tr("Size"), int(BRUSH_LEAST), int(BRUSH_MOST), tr("Brush size")
        )
        self.overlay = QComboBox()
        self.overlay.setAccessibleName(tr("Overlay"))
        for text, name, _ in OVERLAYS:
            self.overlay.addItem(tr(text, "overlay"), name)
        self._heading(tools, tr("Overlay"))
        tools.addWidget(self.overlay)
        self.strength = self._slider(tools, tr("Strength"), 5, 100, tr("Strength of the overlay"))
        self.others = self._slider(tools, tr("Others"), 0, 100, tr("Opacity of other instruments"))
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

    def wrap(self, width: int) -> None:
        """Begin a new row where the next group would not fit into the width (pixels); what
        is found and the tools always stand in rows of their own."""
        used = 0
        for bar in self._bars:
            # At its widest, also where it is squeezed now.
            layout = bar.layout()
            need = layout.sizeHint().width() if layout is not None else bar.width()
            anew = bar is self._second_row or (used > 0 and used + need > width)
            if anew and not self._window.toolBarBreak(bar):
                self._window.insertToolBarBreak(bar)
            elif not anew and self._window.toolBarBreak(bar):
                self._window.removeToolBarBreak(bar)
            used = need if anew else used + need

    def _bar(self, title: str) -> QToolBar:
        bar = QToolBar(tr(title))
        bar.setObjectName(title)
        bar.setMovable(False)
        bar.setIconSize(QSize(20, 20))
        bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self._window.addToolBar(Qt.ToolBarArea.TopToolBarArea, bar)
        self._bars.append(bar)
        return bar

    @staticmethod
    def _menu(bar: QToolBar, words: str, menu: QMenu) -> None:
        button = QToolButton()
        button.setText(words)
        button.setAccessibleName(tr("{menu}: choose a part of the body", menu=words))
        button.setToolTip(tr("Look at a hand, foot, face, head or saddle enlarged (F5 to F12)"))
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
            self._heading(bar, tr(group))
        for row in TABLE:
            if row.bar == group:
                action = self._actions[row.id]
                bar.addAction(action)
                button = bar.widgetForAction(action)
                if isinstance(button, QToolButton):
                    button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
                    words = tr(row.text).replace("&", "")
                    button.setAccessibleName(words if group == "Look" else f"{tr(group)}: {words}")
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
