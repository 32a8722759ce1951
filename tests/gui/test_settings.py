"""What survives a sitting, and that bad values never stop the next one."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bodymap.gui.choices import BRUSH_LEAST, BRUSH_MOST
from bodymap.gui.settings import (
    MOST_RECENT,
    TEXT_LEAST,
    TEXT_MOST,
    THEME_CHOICES,
    Settings,
    read_settings,
    settings_file,
    with_recent,
    write_settings,
)
from bodymap.terms import MAP_NAMES


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "config" / "settings.ini"


def test_nothing_there_is_the_start(file: Path) -> None:
    assert read_settings(file) == Settings()
    assert not file.exists()


def test_the_folder_can_be_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BODYMAP_CONFIG", str(tmp_path))
    write_settings(Settings(theme="dark"))
    assert settings_file() == tmp_path / "settings.ini"
    assert settings_file().is_file()
    assert read_settings().theme == "dark"


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.builds(
        Settings,
        theme=st.sampled_from(THEME_CHOICES),
        geometry=st.binary(max_size=300),
        docks=st.binary(max_size=300),
        overlay=st.sampled_from((None, *MAP_NAMES)),
        overlay_strength=st.floats(0, 1),
        brush=st.floats(BRUSH_LEAST, BRUSH_MOST),
        text_scale=st.floats(TEXT_LEAST, TEXT_MOST),
    )
)
def test_round_trip(file: Path, kept: Settings) -> None:
    write_settings(kept, file)
    assert read_settings(file) == kept


class TestRecent:
    def test_newest_first_each_once_at_most_ten_and_existing(
        self, file: Path, tmp_path: Path
    ) -> None:
        paths = [tmp_path / f"case, {number} = ä;%.json" for number in range(14)]
        for path in paths:
            path.touch()
        kept = Settings()
        for path in (*paths, paths[9]):
            kept = with_recent(kept, path)
        expected = (paths[9], *(p for p in paths[::-1] if p is not paths[9]))[:MOST_RECENT]
        assert kept.recent == expected
        write_settings(kept, file)
        assert read_settings(file).recent == expected
        paths[9].unlink()
        assert read_settings(file).recent == expected[1:]

    def test_one_is_a_list_too(self, file: Path, tmp_path: Path) -> None:
        case = tmp_path / "case.json"
        case.touch()
        write_settings(with_recent(Settings(), case), file)
        assert read_settings(file).recent == (case,)

    def test_a_relative_path_is_found_from_anywhere(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        (tmp_path / "case.json").touch()
        monkeypatch.chdir(tmp_path)
        assert with_recent(Settings(), Path("case.json")).recent == (tmp_path / "case.json",)

    def test_folders_and_missing_files_are_no_cases(self, tmp_path: Path) -> None:
        kept = replace(Settings(), recent=(tmp_path, tmp_path / "gone.json"))
        assert with_recent(kept, tmp_path / "gone too.json").recent == ()


class TestBadValues:
    @pytest.mark.parametrize(
        "value",
        ["", "blue", "nan", "inf", "-3", "1e9", "@ByteArray(x)", "@Variant(\\0\\0)", "a, b"],
    )
    def test_every_value_falls_back_alone(self, file: Path, value: str) -> None:
        keys = ["theme", "geometry", "docks", "overlay", "overlay_strength", "brush",
                "text_scale", "recent"]  # fmt: skip
        for key in keys:
            write_settings(Settings(theme="dark", brush=30.0), file)
            lines = [
                f"{key}={value}" if line.startswith(f"{key}=") else line
                for line in file.read_text().splitlines()
            ]
            bad = file.with_name(f"{key}.ini")
            bad.write_text("\n".join(lines))
            found = read_settings(bad)
            assert found.theme == ("system" if key == "theme" else "dark")
            assert found.brush == (Settings().brush if key == "brush" else 30.0)
            assert math.isfinite(found.overlay_strength + found.text_scale)
            assert found.recent == ()

    @pytest.mark.parametrize(
        "data", [b"", b"\0" * 100, b"\xff\xfe[window", b"[window\nbrush", b"="]
    )
    def test_rubbish_is_the_start(self, file: Path, data: bytes) -> None:
        file.parent.mkdir()
        file.write_bytes(data)
        assert read_settings(file) == Settings()

    def test_a_place_that_cannot_be_written_is_silent(self, tmp_path: Path) -> None:
        (tmp_path / "blocked").write_text("a file where the folder should be")
        write_settings(Settings(theme="dark"), tmp_path / "blocked" / "settings.ini")
        assert (tmp_path / "blocked").read_text() == "a file where the folder should be"
