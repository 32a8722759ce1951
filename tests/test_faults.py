"""Faults in the language in hand: every sentence is marked, and German ones are German."""

import ast
import contextlib
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import bodymap
from bodymap import language
from bodymap.atlas import Atlas
from bodymap.cli import main
from bodymap.cli.parsers import PARSERS
from bodymap.errors import CaseError
from bodymap.findings.case_complaints import WORDS
from bodymap.findings.case_file import parse_case
from bodymap.findings.record_reading import WORDS as RECORD_WORDS
from bodymap.findings.signs import SignChange
from bodymap.findings.sites import sites
from bodymap.language import ENGLISH, use
from tests.refused import FILES, REQUESTS

PACKAGE = Path(bodymap.__file__).parent
CORE = [p for p in sorted(PACKAGE.rglob("*.py")) if "gui" not in p.relative_to(PACKAGE).parts]

TELLING = {"RequestError", "CaseError", "FaultError", "ArgumentTypeError", "fault"}
"""Calls that tell a fault. An AssetError is told to who edits tables and drawings, in English,
save those that ask to install bodymap anew."""

MARKING = {"tr", "trn", "later", "phrase"}
ENGLISH_IN_ALL = {"match", "fullmatch", "compile", "search", "findall", "sub", "startswith",
                  "removeprefix", "partition", "replace", "TypeVar", "cast"}  # fmt: skip
"""Calls whose texts nobody reads: patterns, and what other programs say."""

MORE = ("findings/case_complaints.py", "cli/display.py", "cli/argparse_words.py")
"""Modules that word a fault which others tell."""

NOT_READ = {
    "cli/argparse_words.py": {"COUNTED"},  # what argparse asks for
    "findings/record_reading.py": {"WORDS"},  # what stands in a file
    "practice/textbook.py": {"NAMED_PART", "complained"},  # looked up as wholes
}
"""What no language changes, or what is looked up elsewhere: modules and names in them."""


@pytest.fixture(autouse=True)
def _english_again() -> Iterator[None]:
    yield
    use(ENGLISH)


def _name(node: ast.AST) -> str:
    return getattr(node, "attr", getattr(node, "id", ""))


def _sentences(node: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and words of texts that nobody looks up, and that are more than one word.
    Docstrings, keys, and what is compared with the words of other programs stand aside."""
    docstring = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    if docstring or isinstance(node, ast.Compare):
        return
    if isinstance(node, ast.Call) and _name(node.func) in MARKING | ENGLISH_IN_ALL:
        return
    if isinstance(node, ast.Constant | ast.JoinedStr):
        parts = node.values if isinstance(node, ast.JoinedStr) else [node]
        text = "".join(str(p.value) if isinstance(p, ast.Constant) else "Xx" for p in parts)
        if re.search(r"[A-Za-z]{2,}[,;:]? +[a-z]{2,}", text) and not text.startswith("<?xml"):
            yield node.lineno, text
        parts = [p for p in parts if isinstance(p, ast.FormattedValue)]
    else:
        parts = node.values if isinstance(node, ast.Dict) else ast.iter_child_nodes(node)
    for part in parts:
        yield from _sentences(part)


def _defined(statement: ast.stmt) -> set[str]:
    if isinstance(statement, ast.Assign):
        return {_name(target) for target in statement.targets}
    if isinstance(statement, ast.AnnAssign):
        return {_name(statement.target)}
    return {getattr(statement, "name", "")}


def unmarked(path: Path, place: str) -> list[str]:
    """Sentences of a module that tells faults, and that no catalogue can hold."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    called = {_name(n.func) for n in ast.walk(tree) if isinstance(n, ast.Call)}
    if not called & TELLING and place not in MORE:
        return []
    read = [s for s in tree.body if not _defined(s) & NOT_READ.get(place, set())]
    return [f"{place}, line {line}: {text}" for s in read for line, text in _sentences(s)]


@pytest.mark.parametrize("path", CORE, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_every_fault_of_the_core_is_marked(path: Path) -> None:
    assert not unmarked(path, path.relative_to(PACKAGE).as_posix())


def test_an_unmarked_fault_would_be_noticed(tmp_path: Path) -> None:
    file = tmp_path / "visits.py"
    file.write_text(
        '"""What it does."""\n'
        'def f(x):\n    if x:\n        raise RequestError(f"{x} is wrong; mend it.")\n'
        "    raise RequestError(_why(x))\n"
        'def _why(x):\n    """Why not."""\n'
        '    return "there is none" if x in "a b" else tr("a b")\n'
    )
    assert unmarked(file, "visits.py") == [
        "visits.py, line 4: Xx is wrong; mend it.", "visits.py, line 8: there is none",
    ]  # fmt: skip
    file.write_text('raise RequestError(tr("{x} is wrong; mend it.", x="a"))\n')
    assert not unmarked(file, "visits.py")


def _refusal(data: bytes, atlas: Atlas) -> str:
    with pytest.raises(CaseError) as told:
        parse_case(data, "case.json", atlas)
    return str(told.value)


def _asked(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    code = main(words)
    told = capsys.readouterr()
    assert told.out == ""
    return code, told.err


APPROVED: dict[str, str] = json.loads(
    (Path(__file__).parent / "refused_in_english.json").read_text(encoding="utf-8")
)
"""What was said of each broken file before any of it was marked for a catalogue."""


def test_english_faults_are_said_as_they_were(atlas: Atlas) -> None:
    assert APPROVED.keys() == FILES.keys()
    for what, data in FILES.items():
        assert _refusal(data, atlas) == APPROVED[what], what


VALUES = {
    *(word for _, words in WORDS.values() for word in words),
    *(word for words in RECORD_WORDS.values() for word in words.split(", ")),
    *SignChange, *(site.id for site in sites()),
    "CASE", "SIDE=CHANGE", "JSON", "UTF-8", "bodymap", "PDF", "text", "none", "dermatomes",
    "nerves", "regions", "null",
}  # fmt: skip
"""Words of files and options, which are the same in every language; and of both languages."""


def _read(told: str) -> set[str]:
    """The words of a sentence that a person reads: nothing quoted, no values, no place."""
    plain = re.sub(r"^bodymap: |^\S+, \$[^:]*:|„[^“]*“|'[^']*'|--\w+|\S*[/.]\w+", " ", told)
    for value in sorted(map(str, VALUES), key=len, reverse=True):
        plain = re.sub(rf"(?<![\w-]){re.escape(value)}(?![\w-])", " ", plain)
    return {word.lower() for word in re.findall(r"[^\W\d_]{2,}", plain)}


BOTH = {
    "anterior", "byte", "format", "in", "md", "november", "option", "position", "reflex", "region",
    "ring", "segment", "version", "was",
    "ankle", "elbow", "more", "triceps", "ulnar",  # what was typed
}  # fmt: skip
"""Words of both languages, and of what was asked for."""


def test_german_faults_share_no_word_with_the_english_ones(
    atlas: Atlas,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv(language.VARIABLE, raising=False)
    english = {w: _refusal(d, atlas) for w, d in FILES.items()}
    asked = {r: _asked(r, capsys) for r in REQUESTS}
    use("de")
    monkeypatch.setenv(language.VARIABLE, "de")
    pairs = [(english[w], _refusal(d, atlas)) for w, d in FILES.items()]
    for words, (code, told) in asked.items():
        again = _asked(words, capsys)
        assert again[0] == code == 2, words
        pairs.append((told, again[1]))
    assert not list(tmp_path.iterdir())
    assert len(pairs) > 150
    for told, german in pairs:
        assert "\n" not in german.strip()
        assert german.strip().endswith((".", "?")), german
        shared = _read(told) & _read(german) - BOTH
        assert not shared, (shared, german)
        assert len(_read(told)) > 2, told  # what is compared is not empty


def test_places_and_values_of_a_file_are_the_same_in_german(atlas: Atlas) -> None:
    use("de")
    for what, data in FILES.items():
        place = re.match(r"case\.json, (\$[^:]*):", APPROVED[what])
        if place:
            assert _refusal(data, atlas).startswith(f"case.json, {place[1]}: "), what
    assert "„tenar“; vielleicht „thenar“?" in _refusal(FILES["unknown region"], atlas)


@pytest.mark.parametrize("command", ["", *PARSERS])
def test_help_is_german(
    command: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    words = [command, "--help"] if command else ["--help"]
    said = []
    for code in (ENGLISH, "de"):
        monkeypatch.setenv(language.VARIABLE, code)
        with contextlib.suppress(SystemExit):
            main(words)
        said.append(capsys.readouterr().out)
    english, german = said
    assert "Optionen:" in german
    assert "usage: bodymap" in english
    assert "show this help message and exit" in english
    found = re.search(r"\b(the|of|and|with|which|from|are|by|is|examples|options|show)\b",
                      _prose(german))  # fmt: skip
    assert not found, german[max(0, found.start() - 60) : found.end() + 60]
    assert max(map(len, german.splitlines())) <= 110


def _prose(told: str) -> str:
    """A help text without commands and quotes."""
    lines = [line for line in told.splitlines() if not line.startswith("  bodymap")]
    return re.sub(r"„[^“]*“", " ", "\n".join(lines))


def test_a_simulated_patient_is_the_same_in_every_language(
    capsysbinary: pytest.CaptureFixture[bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    made = []
    for code in (ENGLISH, "de"):
        monkeypatch.setenv(language.VARIABLE, code)
        assert main(["patient", "--seed", "7", "--reveal"]) == 0
        made.append(capsysbinary.readouterr().out)
    assert made[0] == made[1]
