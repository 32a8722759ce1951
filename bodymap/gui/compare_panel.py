"""Root against nerve: choose two or three lesions and see them on the figure, with the
spots, muscles and reflexes that tell them apart."""

from html import escape

from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from bodymap.errors import BodymapError
from bodymap.gui.lesion_box import LesionBox
from bodymap.gui.session import Session
from bodymap.language import capital, tr
from bodymap.localise.comparison import classic_confusions
from bodymap.report.question_words import differing
from bodymap.terms import Side

SIDES = (Side.RIGHT, Side.LEFT)


class ComparePanel(QWidget):
    """Compares lesions on the figure, in place of the findings, until it is cleared."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.classics = QComboBox()
        self.classics.setAccessibleName(tr("Classic confusions"))
        self.classics.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.first = LesionBox(tr("First lesion"))
        self.second = LesionBox(tr("Second lesion"))
        self.third = LesionBox(tr("Third lesion (optional)"))
        self.side = QComboBox()
        for side in SIDES:
            self.side.addItem(capital(side.word), side)
        self.side.setAccessibleName(tr("Side of the compared lesions"))
        self.compare_button = QPushButton(tr("Compare"))
        self.clear_button = QPushButton(tr("Show the findings again"))
        self.text = QTextBrowser()
        self.text.setAccessibleName(tr("What tells the lesions apart"))
        self.text.setMinimumHeight(120)
        row = QHBoxLayout()
        row.addWidget(self.side)
        row.addWidget(self.compare_button)
        row.addWidget(self.clear_button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(10, 8, 10, 8)
        layout.setSpacing(4)
        layout.addWidget(QLabel(tr("A classic confusion, or any lesions by name")))
        for widget in (self.classics, self.first, self.second, self.third):
            layout.addWidget(widget)
        layout.addLayout(row)
        layout.addWidget(self.text, 1)
        session.atlas_ready.connect(self._fill)
        self.classics.activated.connect(self._take_classic)
        for box in (self.first, self.second, self.third):
            box.chosen.connect(self._try)
        self.side.activated.connect(lambda _: self._try())
        self.compare_button.clicked.connect(self.compare)
        self.clear_button.clicked.connect(self.clear)
        self._say_how()
        self._fill()

    def _fill(self) -> None:
        scales = self._session.scales
        if scales is None:
            return
        for box in (self.first, self.second, self.third):
            box.fill(scales.catalogue)
        names: dict[str, str] = {}
        for hypothesis in scales.catalogue.hypotheses:
            names.setdefault(hypothesis.id, hypothesis.name)
        self.classics.clear()
        self.classics.addItem(tr("Classic confusions…"))
        for pair in classic_confusions(scales):
            self.classics.addItem(
                tr("{first} or {second}", first=names[pair.first], second=names[pair.second]), pair
            )

    def _take_classic(self, row: int) -> None:
        pair = self.classics.itemData(row)
        if pair is not None:
            self.first.name(pair.first)
            self.second.name(pair.second)
            self.third.setCurrentIndex(-1)
            self.compare()

    def _chosen(self) -> list[str]:
        return [b.lesion for b in (self.first, self.second, self.third) if b.lesion is not None]

    def _try(self, _id: str = "") -> None:
        if len(self._chosen()) >= 2:
            self.compare()

    def compare(self) -> None:
        """Compare what is named."""
        side = Side(self.side.currentData())
        try:
            self._session.compare(tuple((id_, side) for id_ in self._chosen()))
        except BodymapError as error:
            self._session.tell(str(error), failure=True)
            return
        self._show()

    def clear(self) -> None:
        """Show the findings again."""
        self._session.compare(None)
        self._say_how()

    def _say_how(self) -> None:
        self.text.setHtml(
            tr(
                "<p>The figure will show the skin that only one of the lesions takes, and the "
                "skin that they share. Esc shows the findings again.</p>"
            )
        )

    def _show(self) -> None:
        comparison, atlas = self._session.comparison, self._session.atlas
        if comparison is None or atlas is None:
            return
        area = atlas.cells.area_cm2
        rows = "".join(
            f"<tr><td>{escape(t.name)}</td><td align='right'>{area[t.extent].sum():.0f} cm²</td>"
            f"<td align='right'>{area[alone].sum():.0f} cm²</td></tr>"
            for t, alone in zip(comparison.members, comparison.alone, strict=True)
        )
        parts = [
            f"<table cellpadding='3'><tr><th></th><th>{tr('skin')}</th>",
            f"<th>{tr('of its own')}</th></tr>",
            rows,
            "</table>",
            tr("<p>Shared by all: {area:.0f} cm²</p>", area=area[comparison.shared].sum()),
        ]
        for a, b, difference in comparison.differences:
            first, second = comparison.members[a].name, comparison.members[b].name
            said = "<br>".join(escape(s) for s in differing(atlas, difference, first, second))
            title = escape(tr("{first} or {second}?", first=first, second=second))
            parts.append(f"<p><b>{title}</b><br>{said}</p>")
        self.text.setHtml("".join(parts))
