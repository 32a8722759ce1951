"""Languages: catalogues that are whole, texts that are marked, sides that stay."""

import ast
import os
import re
import string
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

import bodymap
from bodymap import language
from bodymap.atlas import Atlas
from bodymap.classification.classify import classify
from bodymap.errors import RequestError
from bodymap.findings.case_file import open_case
from bodymap.findings.drawing import Drawing
from bodymap.findings.samples import sample_file
from bodymap.gui import actions
from bodymap.language import ENGLISH, Phrase, languages, phrase, tr, trn, use
from bodymap.localise.answer import answered
from bodymap.localise.comparison import compared
from bodymap.localise.ranking import Scales
from bodymap.report import classification_report, comparison_report
from bodymap.report.layout import SIDE_MARKS
from bodymap.report.ranking_report import as_json, as_text
from bodymap.terms import Change, Modality, Side
from tests.english import english_in, english_texts
from tests.messages import CONTEXT, PLURAL, key, keys, known

GUI = Path(bodymap.__file__).parent / "gui"
OTHERS = [code for code in languages() if code != ENGLISH]

SHOWING = {
    "setText", "setToolTip", "setAccessibleName", "setAccessibleDescription", "setWindowTitle",
    "setPlaceholderText", "setPrefix", "setSuffix", "setSpecialValueText", "setTitle", "setHtml",
    "setPlainText", "setStatusTip", "addItem", "addItems", "addAction", "addMenu", "addTab",
    "showMessage", "drawText", "QLabel", "QPushButton", "QCheckBox", "QToolButton", "QAction",
    "QMenu", "QDockWidget", "QListWidgetItem", "QToolBar", "QGroupBox", "QRadioButton", "tell",
    "inform", "step", "_step", "_take", "_label", "_button", "_heading", "_box", "_dock", "_add",
    "_text", "SearchList", "LesionBox", "SideNumbers", "NamedPlace", "RequestError", "start",
    "getOpenFileName", "getSaveFileName", "append", "after",
}  # fmt: skip
"""Calls of the window whose texts a person reads."""

NOT_WORDS = {
    "NT",  # as ISNCSCI writes it
    "2026-11-25",  # how a date is written
    "case.bodymap.json", "bodymap.png", "bodymap.pptx", "note.pdf",  # names of files
    "[*] — bodymap",  # the name of the program, behind that of the file
    "cut",  # a kind of place that is never shown
}  # fmt: skip
"""Texts in such calls that no language changes."""

IDS = re.compile(r"[a-z]+([-_][a-z0-9]+)*")


@pytest.fixture(autouse=True)
def _english_again() -> Iterator[None]:
    yield
    use(ENGLISH)


def _name(call: ast.Call) -> str:
    return getattr(call.func, "attr", getattr(call.func, "id", ""))


def _texts(node: ast.AST) -> Iterator[ast.AST]:
    """Texts in an argument, not those of a call inside it, which has a name of its own."""
    if isinstance(node, ast.Constant | ast.JoinedStr):
        yield node
    elif not isinstance(node, ast.Call | ast.Lambda | ast.Subscript | ast.Compare):
        for child in ast.iter_child_nodes(node):
            yield from _texts(child)


def _words(node: ast.AST) -> str:
    """The letters of a text that are read: no tags, no entities."""
    parts = node.values if isinstance(node, ast.JoinedStr) else [node]
    fixed = " ".join(
        p.value for p in parts if isinstance(p, ast.Constant) and isinstance(p.value, str)
    )
    return re.sub(r"<[^>]*>?|[^<]*>|&\w+;", " ", fixed).strip()


def unmarked(path: Path) -> list[str]:
    """Texts of a module that are shown and not marked for the catalogue."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call) or _name(node) not in SHOWING:
            continue
        for argument in (*node.args, *(k.value for k in node.keywords)):
            for text in _texts(argument):
                words = _words(text)
                if not re.search(r"[A-Za-z]{2}", words) or words in NOT_WORDS:
                    continue
                if IDS.fullmatch(words) and isinstance(text, ast.Constant):
                    continue  # an id, such as the name of a panel
                found.append(f"{path.name}, line {node.lineno}: {words[:60]}")
    return found


@pytest.mark.parametrize("path", sorted(GUI.glob("*.py")), ids=lambda p: p.name)
def test_every_text_of_the_window_is_marked(path: Path) -> None:
    assert not unmarked(path)


def test_an_unmarked_text_would_be_noticed(tmp_path: Path) -> None:
    file = tmp_path / "panel.py"
    file.write_text('x.setText("Some words")\ny = QLabel(f"<b>Words</b> {n}")\n')
    assert len(unmarked(file)) == 2
    file.write_text('x.setText(tr("Some words"))\ny = QLabel(f"<b>{n}</b>")\n')
    assert not unmarked(file)


@pytest.mark.parametrize("code", OTHERS)
def test_catalogue_is_whole_and_holds_nothing_stale(code: str) -> None:
    shown, have = set(keys()), set(known(code))
    assert sorted(shown - have) == []
    assert sorted(have - shown) == []


def _fields(text: str) -> Counter[str]:
    return Counter(name for _, name, _, _ in string.Formatter().parse(text) if name is not None)


@pytest.mark.parametrize("code", OTHERS)
def test_placeholders_tags_and_edges_are_kept(code: str) -> None:
    for english, said in known(code).items():
        text = english.rpartition(CONTEXT)[2].split(PLURAL)[0]
        for form in said.split(PLURAL):
            assert _fields(form) == _fields(text), english
            assert re.findall(r"<[^<>]*>", form) == re.findall(r"<[^<>]*>", text), english
            assert form[:1].isspace() == text[:1].isspace(), english
            assert form[-1:].isspace() == text[-1:].isspace(), english
            assert form.endswith("…") == text.endswith("…"), english


@pytest.mark.parametrize("code", OTHERS)
def test_every_catalogue_compiles_as_the_usual_tools_would(code: str) -> None:
    found = language.catalogue(code)
    assert found.charset() == "UTF-8"
    assert found.gettext("&File") == known(code)["&File"]
    assert found.pgettext("overlay", "None") == known(code)[key("None", "overlay")]


@pytest.mark.parametrize("code", OTHERS)
def test_mnemonics_are_kept_and_unique_in_each_menu(code: str) -> None:
    use(code)
    for menu in (None, *actions.MENUS):
        texts = [tr(m) for m in actions.MENUS] if menu is None else [
            actions.shown(row) for row in actions.TABLE if row.menu == menu
        ]  # fmt: skip
        if menu == "&File":
            texts += [tr("Sa&mples"), tr("&Recent cases")]
        if menu == "&View":
            texts += [tr("&Close-ups"), tr("Lan&guage")]
        letters = [text[text.index("&") + 1].lower() for text in texts if "&" in text]
        assert len(letters) == len(set(letters)), (menu, sorted(letters))
    for row in actions.TABLE:
        assert ("&" in row.text) == ("&" in actions.shown(row)), row.id


SIDE_WORDS = {"de": ({"right": r"\brecht|\bRecht|\bRECHT", "left": r"\blink|\bLink|\bLINK"})}
"""How the sides are told in a language, as stems."""


@pytest.mark.parametrize("code", OTHERS)
def test_no_translation_swaps_the_sides(code: str) -> None:
    right, left = SIDE_WORDS[code]["right"], SIDE_WORDS[code]["left"]
    checked = 0
    for english, said in known(code).items():
        text = english.rpartition(CONTEXT)[2]
        if re.search(r"\b(right|wrong|answers?|angles)\b.*\b(of|answers?|angles|skin|lesion|neigh)",
                     text, re.I) and not re.search(r"\bside\b|\bleft\b", text):  # fmt: skip
            continue  # right as against wrong, and right angles
        plain = re.sub(r"\{[^}]*\}", "", text)
        has = {s: bool(re.search(rf"\b{s}\b", plain, re.I)) for s in ("right", "left")}
        if has["right"] == has["left"]:
            continue
        side, other = (right, left) if has["right"] else (left, right)
        if re.search(side, said) or re.search(other, said):
            checked += 1
            assert re.search(side, said), english
            assert not re.search(other, said), english
    assert checked > 25


def test_sides_views_and_marks_of_the_figure_in_german() -> None:
    use("de")
    assert [s.word for s in (Side.RIGHT, Side.LEFT, Side.BOTH)] == ["rechts", "links", "beidseits"]
    assert {(m.side, m.text) for m in SIDE_MARKS} == {
        (Side.RIGHT, "RECHTS"), (Side.LEFT, "LINKS"),
    }  # fmt: skip


def test_a_drawing_on_the_right_says_rechts_and_never_links(atlas: Atlas) -> None:
    drawing = Drawing().with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "thumb-palmar", Side.RIGHT
    )
    answer = answered(Scales(atlas), drawing)
    use("de")
    text = as_text(answer)
    assert "rechts" in text
    assert "links" not in text.partition("Was als Nächstes")[0].replace("beidseits", "")
    assert not re.search(r"\b(right|left|fits best|explains)\b", text)


def test_programs_read_english_in_every_language(atlas: Atlas) -> None:
    drawing = Drawing().with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "thumb-palmar", Side.RIGHT
    )
    answer = answered(Scales(atlas), drawing)
    before = as_json(answer)
    use("de")
    assert as_json(answer) == before


def test_a_comparison_is_told_in_german_and_read_by_programs_in_english(atlas: Atlas) -> None:
    lesions = (("root-c6", Side.RIGHT), ("median-wrist", Side.RIGHT))
    comparison = compared(Scales(atlas), lesions)
    before = comparison_report.as_json(atlas, comparison)
    english = english_texts("de")
    use("de")
    assert comparison_report.as_json(atlas, comparison) == before
    text = comparison_report.as_text(atlas, comparison)
    assert "Nervenwurzel C6 oder N. medianus" in text
    assert "(rechts)" in text
    assert "links" not in text
    assert not english_in(" ".join(text.split()), english)


def test_dictated_words_are_english_in_every_language(atlas: Atlas) -> None:
    from bodymap.wording.describe import described

    drawing = Drawing().with_region(
        atlas, Modality.PINPRICK, Change.REDUCED, "thumb-palmar", Side.RIGHT
    )
    before = described(atlas, drawing)
    use("de")
    assert described(atlas, drawing) == before


def test_what_a_result_could_be_is_told_in_german(atlas: Atlas) -> None:
    drawing = open_case(sample_file("neuropathy-visits"), atlas).drawing
    found = classify(drawing.record.scores)
    assert "no or yes" in classification_report.as_html(found)
    use("de")
    for text in (classification_report.as_html(found), classification_report.as_text(found)):
        assert "nein oder ja" in text
        assert "vollständig oder unvollständig" in text
        assert not re.search(r"\b(no|yes|complete|incomplete)\b", text)


def test_numbers_plurals_and_phrases_in_german() -> None:
    use("de")
    assert tr("{bits:.2f} bits", bits=0.25) == "0,25 Bit"
    assert "1" in trn("and {count} more", "and {count} more", 1)
    name = phrase("{first} to {last} nerve roots", first="C5", last="C6")
    assert isinstance(name, Phrase)
    assert name == "C5 to C6 nerve roots"
    joined = phrase("{first} and {second}", first=name, second="Whole trigeminal nerve or ganglion")
    assert tr(joined) == "Nervenwurzeln C5 bis C6 und Ganzer N. trigeminus oder Ganglion"


def test_a_text_without_translation_is_shown_in_english() -> None:
    use("de")
    assert tr("No such text {n}", n=3) == "No such text 3"


def test_an_unknown_language_is_refused_in_one_sentence() -> None:
    with pytest.raises(RequestError, match="There is no language 'xx'; there are en, de"):
        use("xx")
    assert language.language() == ENGLISH


def test_environment_then_setting_then_english(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(language.VARIABLE, raising=False)
    assert language.wanted() == ENGLISH
    assert language.wanted("de") == "de"
    assert language.wanted("gone") == ENGLISH
    monkeypatch.setenv(language.VARIABLE, "de")
    assert language.wanted("en") == "de"


def _run(code: str | None, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {k: v for k, v in os.environ.items() if k != language.VARIABLE}
    if code is not None:
        environment[language.VARIABLE] = code
    return subprocess.run(
        [sys.executable, "-m", "bodymap", *arguments],
        capture_output=True, text=True, env=environment, encoding="utf-8",
    )  # fmt: skip


def test_command_line_is_english_unless_the_environment_says_otherwise() -> None:
    sample = str(Path(bodymap.__file__).parent.parent / "samples" / "root-c6.json")
    assert "C6 nerve root fits best" in _run(None, "rank", sample).stdout
    assert "Nervenwurzel C6 passt am besten" in _run("de", "rank", sample).stdout
    refused = _run("xx", "rank", sample)
    assert refused.returncode == 2
    assert refused.stderr.startswith("bodymap: There is no language 'xx'")
