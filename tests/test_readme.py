"""The README's two commands are the ones that are run."""

import re
from pathlib import Path

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
