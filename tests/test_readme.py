"""The README's two commands are the ones that are run."""

import re
import shlex
from pathlib import Path

import pytest

from bodymap.cli import main

ROOT = Path(__file__).resolve().parent.parent


def _commands() -> list[str]:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return re.findall(r"```sh\n(python3 [^\n]+)\n```", text)


def test_readme_has_exactly_two_set_up_commands() -> None:
    assert len(_commands()) == 2


def test_ci_runs_the_test_command_of_the_readme() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert script[-1] == _commands()[1]


def test_the_sample_and_the_picture_of_the_readme_exist() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    named = re.findall(r"\((assets/[^)]+)\)|(samples/[a-z0-9-]+\.json)", text)
    paths = {a or b for a, b in named}
    assert len(paths) >= 3
    for path in paths:
        assert (ROOT / path).is_file(), path


def _of_the_command_line() -> list[str]:
    """The commands that print or write something and take less than a minute."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    block = next(b for b in re.findall(r"```sh\n(.*?)```", text, re.DOTALL) if "bodymap rank" in b)
    lines = re.findall(r"^(bodymap [a-z]+ [^#\n]*?)(?: +#.*)?$", block, re.MULTILINE)
    return [line for line in lines if not line.startswith(("bodymap samples", "bodymap calibrate"))]


def test_the_readme_shows_most_commands() -> None:
    shown = {line.split()[1] for line in _of_the_command_line()}
    assert {"rank", "draw", "compare", "slides", "note", "visits", "dictate"} <= shown


@pytest.mark.parametrize("line", _of_the_command_line())
def test_every_command_of_the_readme_works_as_printed(
    line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "samples").symlink_to(ROOT / "samples")
    monkeypatch.chdir(tmp_path)
    code = main(shlex.split(line)[1:])
    assert code == 0, capfd.readouterr().err
