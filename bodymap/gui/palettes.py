"""The themes as Qt palettes. The Fusion style with an explicit palette looks the same
everywhere, also where the platform cannot tell light from dark."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QPalette

from bodymap.atlas.assets import assets_folder
from bodymap.gui.qt_shapes import colour
from bodymap.gui.text_scale import scaled
from bodymap.report.appearance import DARK, LIGHT, Theme


def system_theme() -> Theme:
    """The theme that the desktop asks for."""
    dark = QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark
    return DARK if dark else LIGHT


def palette(theme: Theme) -> QPalette:
    """Every role that the window uses, from a theme."""
    roles = QPalette.ColorRole
    result = QPalette()
    for role, name in (
        (roles.Window, theme.panel),
        (roles.WindowText, theme.text),
        (roles.Base, theme.canvas),
        (roles.AlternateBase, theme.panel),
        (roles.Text, theme.text),
        (roles.Button, theme.panel),
        (roles.ButtonText, theme.text),
        (roles.BrightText, theme.text),
        (roles.ToolTipBase, theme.panel),
        (roles.ToolTipText, theme.text),
        (roles.PlaceholderText, theme.muted_text),
        (roles.Highlight, theme.accent),
        (roles.HighlightedText, theme.accent_text),
        (roles.Link, theme.accent),
        (roles.Mid, theme.panel_border),
        (roles.Midlight, theme.panel_border),
        (roles.Dark, theme.panel_border),
        (roles.Light, theme.canvas),
    ):
        result.setColor(role, colour(name))
    for role in (roles.Text, roles.WindowText, roles.ButtonText):
        result.setColor(QPalette.ColorGroup.Disabled, role, colour(theme.muted_text))
    return result


def sheet(theme: Theme) -> str:
    """What a palette cannot say: quiet buttons, and a plain mark for the one in hand."""
    # Ticks of the style are drawn darker than the window, which nobody sees in the dark.
    kind = "dark" if theme.dark else "light"
    tick = (assets_folder() / "icons" / f"check-{kind}.svg").as_posix()
    return f"""
        QToolBar {{ border: none; border-bottom: 1px solid {theme.panel_border};
                    background: {theme.panel}; spacing: 2px; padding: 3px 6px; }}
        QToolButton {{ border: 1px solid transparent; border-radius: 5px; padding: 3px 6px;
                       color: {theme.text}; }}
        QToolButton:hover {{ border-color: {theme.panel_border}; }}
        QToolButton:focus {{ border-color: {theme.accent}; }}
        QToolButton:checked {{ border: 2px solid {theme.accent}; background: {theme.canvas};
                               padding: 2px 5px; }}
        QLabel#caution {{ color: {theme.warning}; font-size: {scaled(11)}px; }}
        QLabel#heading {{ color: {theme.muted_text}; padding: 0 4px 0 8px; }}
        QTableView, QTextBrowser, QListWidget {{ border: 1px solid {theme.panel_border};
                               border-radius: 5px; }}
        QCheckBox::indicator, QListWidget::indicator {{ width: {scaled(11)}px;
                               height: {scaled(11)}px; border: 1px solid {theme.muted_text};
                               border-radius: 3px; background: {theme.canvas}; }}
        QCheckBox::indicator:focus {{ border-color: {theme.accent}; }}
        QCheckBox::indicator:checked, QListWidget::indicator:checked {{
                               background: {theme.accent}; border-color: {theme.accent};
                               image: url({tick}); }}
        QHeaderView::section {{ background: {theme.panel}; color: {theme.muted_text};
                               border: none; padding: 4px; }}
    """
