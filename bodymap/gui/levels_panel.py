"""Levels: key muscles and anal findings beside the key points, and what they all say."""

from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from bodymap.classification.classify import UNDETERMINED, classify
from bodymap.classification.scores import KEY_MUSCLES, SIDES, HalfRecord
from bodymap.examination.levels import UNTESTED, last_normal_tested, modality_level
from bodymap.examination.muscles import NORMAL, graded, key_muscles
from bodymap.findings.drawing import Drawing
from bodymap.findings.record import BedsideRecord, Path
from bodymap.gui.answer_fields import Choice
from bodymap.gui.background import Background
from bodymap.gui.language_choice import keep_sides
from bodymap.gui.session import Session
from bodymap.language import tr
from bodymap.localise.red_flags import RedFlag
from bodymap.report.cautions import CAUTION, CONSENT, FLAGS
from bodymap.terms import Side

UNASKED = "–"
INT = "INT"
GRADES = (UNASKED, "5", "4", "3", "2", "1", "0", "NT", "4*", "3*", "2*", "1*", "0*", "NT*")
ANAL = (UNASKED, "yes", "no", "NT")
LOWEST = (UNASKED, "none", *KEY_MUSCLES, "NT")


class LevelsPanel(QWidget):
    """Every choice is one step that can be undone; the results follow at once."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.choices: dict[Path, Choice] = {}
        self.results = self._label(tr("Levels and classification"))
        self.notes = self._label(tr("Notes on the classification"))
        self.settle = QPushButton(tr("Which point would &settle it?"))
        self.settle.setAccessibleName(tr("Which untested point would settle what is undetermined"))
        self.settle.clicked.connect(self._ask)
        self.points = self._label(tr("Points that would settle it"))
        self.background = Background()
        self.injury = QCheckBox(tr("A spinal cord injury is &documented"))
        self.injury.setToolTip(tr("Only then is a normal record graded E"))
        self.injury.clicked.connect(self._take_injury)
        self.normal = QPushButton(tr("All untested key muscles &normal (5)"))
        self.normal.setAccessibleName(tr("Grade all untested key muscles 5"))
        self.normal.clicked.connect(self._all_normal)
        inner = QWidget()
        keep_sides(self, inner)
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 0, 6, 0)
        for widget in (self.results, self.settle, self.background, self.points, self.notes):
            column.addWidget(widget)
        column.addWidget(self._heading(tr("Key muscles, grade 0 to 5")))
        column.addLayout(self._muscles())
        column.addWidget(self.normal)
        column.addWidget(self._heading(tr("Sacral findings and other muscles")))
        consent = self._label(tr("Consent"))
        consent.setText(tr(CONSENT))
        column.addWidget(consent)
        column.addLayout(self._sacral())
        column.addWidget(self.injury)
        column.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setAccessibleName(tr("Levels and muscles"))
        area.setWidget(inner)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(10, 8, 4, 8)
        outer.addWidget(area)
        session.drawing_changed.connect(self._fill)
        self._fill()

    def _label(self, name: str) -> QLabel:
        label = QLabel()
        label.setWordWrap(True)
        label.setAccessibleName(name)
        return label

    def _heading(self, words: str) -> QLabel:
        return QLabel(f"<b>{words}</b>")

    def _muscles(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setSpacing(3)
        for column, side in enumerate(SIDES, start=1):
            grid.addWidget(QLabel(Side(side).word), 0, column)
        for row, (segment, muscle) in enumerate(key_muscles().items(), start=1):
            name = muscle.name
            label = QLabel(f"{segment}  {name}")
            label.setWordWrap(True)
            grid.addWidget(label, row, 0)
            for column, side in enumerate(SIDES, start=1):
                box = self._choice(
                    ("motor", side, segment), GRADES, f"{segment} {name}, {Side(side).word}"
                )
                grid.addWidget(box, row, column)
        grid.setColumnStretch(0, 1)
        return grid

    def _sacral(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setSpacing(3)
        rows: list[tuple[str, tuple[Path, ...], tuple[str, ...]]] = [
            (tr("Deep anal pressure felt"), (("deep_anal_pressure",),), ANAL),
            (tr("Voluntary anal contraction"), (("voluntary_anal_contraction",),), ANAL),
            (tr("Lowest other muscle, right and left"),
             tuple(("lowest_non_key", side) for side in SIDES), LOWEST),
        ]  # fmt: skip
        for row, (words, paths, values) in enumerate(rows):
            grid.addWidget(QLabel(words), row, 0)
            line = QHBoxLayout()
            for path in paths:
                line.addWidget(
                    self._choice(
                        path,
                        values,
                        words if len(paths) == 1 else f"{words}: {Side(path[-1]).word}",
                    )
                )
            grid.addLayout(line, row, 1)
        grid.setColumnStretch(0, 1)
        return grid

    def _choice(self, path: Path, values: tuple[str, ...], name: str) -> Choice:
        box = Choice()
        for value in values:
            box.addItem(tr(value), value)
        box.setAccessibleName(name)
        # Typing a grade changes the list without activating it.
        box.currentIndexChanged.connect(
            lambda row: self._take(path, str(box.itemData(row)), box.itemText(row), name)
        )
        self.choices[path] = box
        return box

    @property
    def _record(self) -> BedsideRecord:
        return self._session.drawing.record

    def _step(self, words: str, drawing: Drawing) -> None:
        if drawing.record.fields != self._record.fields:
            self._session.step(words, drawing)

    def _take(self, path: Path, value: str, words: str, name: str) -> None:
        kept, drawing = None if value == UNASKED else value, self._session.drawing
        if path[0] == "motor":
            drawing = graded(drawing, path[2], Side(path[1]), kept)
        else:
            drawing = drawing.with_record(drawing.record.with_value(path, kept))
        self._step(f"{name}: {words}", drawing)

    def _take_injury(self, on: bool) -> None:
        record = self._record.with_value(("spinal_cord_injury",), True if on else None)
        words = tr("Cord injury documented") if on else tr("No cord injury documented")
        self._step(words, self._session.drawing.with_record(record))

    def _all_normal(self) -> None:
        drawing = self._session.drawing
        for side in SIDES:
            for segment in KEY_MUSCLES:
                if drawing.record.at("motor", side, segment) is None:
                    drawing = graded(drawing, segment, Side(side), NORMAL)
        self._step(tr("Untested key muscles normal"), drawing)

    def _ask(self) -> None:
        from bodymap.report.classification_report import points_to_test

        found = classify(self._record.scores)

        def told(lines: list[str]) -> None:
            self.points.setText("<br>".join(lines) or tr("Nothing is left open."))

        def failed(error: Exception) -> None:
            self.points.setText(tr("This cannot be worked out: {error}", error=error))

        self.background.start(tr("Working it out…"), lambda: points_to_test(found), told, failed)

    def _fill(self) -> None:
        record = self._record
        for path, box in self.choices.items():
            value = record.at(*path)
            text = UNASKED if value is None else str(value).strip()
            box.blockSignals(True)
            if box.findData(text) < 0:
                box.addItem(tr(text), text)
            box.setCurrentIndex(box.findData(text))
            box.blockSignals(False)
        self.injury.setChecked(record.at("spinal_cord_injury") is True)
        self.background.give_up()
        self.points.setText("")
        self._show_results()

    def _show_results(self) -> None:
        from bodymap.report.classification_report import as_html, notes_on

        scores = self._record.scores
        tested = any(
            s.value is not None
            for half in scores.sides.values()
            for s in (*half.light_touch, *half.pinprick, *half.motor)
        )
        self.settle.setVisible(False)
        if not tested:
            self.results.setText(
                tr(
                    "Nothing is scored yet. The guided examination (Ctrl+B) scores the key "
                    "points, and “Points from the drawing” there those that are painted."
                )
            )
            self.notes.setText("")
            return
        rows = []
        for part in ("light_touch", "pinprick"):
            levels = [_level_words(scores.sides[side], part) for side in SIDES]
            rows.append(
                tr(
                    "Normal down to, {modality}: right <b>{right}</b>, left <b>{left}</b>",
                    modality=tr(part.replace("_", " ")),
                    right=levels[0],
                    left=levels[1],
                )
            )
        found = classify(scores)
        self.settle.setVisible(bool(found.undetermined))
        title = tr("<b>By ISNCSCI (revised 2019)</b>")
        self.results.setText("<br>".join((*rows, title)) + as_html(found))
        said = [*notes_on(found), tr(CAUTION)]
        levels = [found.result("sensory_level", side).rstrip("*") for side in SIDES]
        if any(level not in (INT, UNDETERMINED) for level in levels):
            said.insert(0, tr(FLAGS[RedFlag.SENSORY_LEVEL]))
        self.notes.setText("".join(f"<p>{words}</p>" for words in said))


def _level_words(half: HalfRecord, part: str) -> str:
    """The level of one side in one modality; of the points tested where some are missing."""
    level = modality_level(half, part)
    if level is None:
        return tr("not tested")
    last = last_normal_tested(half, part)
    if level == UNTESTED and last is not None:
        return tr("{segment}, of the points tested", segment=last)
    return tr(level)
