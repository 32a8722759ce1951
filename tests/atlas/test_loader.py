"""The loader on a toy atlas: areas that fit in the head, and every refusal."""

from pathlib import Path

import numpy as np
import pytest
import shapely

from bodymap.atlas import Atlas, load_atlas
from bodymap.atlas.body_surface import BODY_SURFACE_CM2
from bodymap.errors import AssetError
from bodymap.terms import Side, View
from tests.atlas.toy import front, make_toy


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return make_toy(tmp_path / "assets")


@pytest.fixture
def toy(folder: Path, tmp_path: Path) -> Atlas:
    return load_atlas(folder, tmp_path / "cache")


def test_four_squares_on_each_side(toy: Atlas) -> None:
    cells = toy.cells
    front_cells = cells.in_view(View.FRONT)
    assert len(front_cells) == 8
    assert cells.area_units[front_cells] == pytest.approx(400.0)
    # 40 % of the body over 8 equal squares.
    assert cells.percent_of_body[front_cells] == pytest.approx(5.0)
    assert cells.area_cm2.sum() == pytest.approx(BODY_SURFACE_CM2)


def test_left_of_the_patient_is_at_positive_x_in_front_and_negative_behind(toy: Atlas) -> None:
    place = toy.place(View.FRONT, 10, 10)
    assert place is not None
    assert (place.side, place.dermatome, place.region.id) == (Side.LEFT, "C6", "thenar")
    assert toy.place(View.FRONT, -10, 10).side is Side.RIGHT
    assert toy.place(View.BACK, 5, 5).side is Side.RIGHT
    assert toy.place(View.BACK, -5, 5).side is Side.LEFT
    assert toy.place(View.HEAD_RIGHT, 5, 5).side is Side.RIGHT
    assert toy.place(View.HEAD_LEFT, -5, 5).side is Side.LEFT
    assert toy.place(View.SOLES, 30, 5).side is Side.LEFT
    assert toy.place(View.SADDLE, 5, 5).side is Side.LEFT
    assert toy.place(View.FRONT, 100, 10) is None


def test_twins_are_mirror_images(toy: Atlas) -> None:
    cells = toy.cells
    assert np.array_equal(cells.twin[cells.twin], np.arange(len(cells)))
    assert (cells.left != cells.left[cells.twin]).all()
    assert cells.area_cm2[cells.twin] == pytest.approx(cells.area_cm2)


def test_root_and_nerve_take_their_squares(toy: Atlas) -> None:
    c6 = toy.territory("root-c6", Side.LEFT)
    skin = toy.skin_of(c6.extent, View.FRONT)
    assert skin is not None
    assert skin.equals(shapely.box(0, 0, 40, 20))
    little = toy.territory("digital-little", Side.RIGHT)
    assert toy.skin_of(little.extent, View.FRONT).equals(shapely.box(-40, 0, -20, 40))


def test_painted_area_is_exact(toy: Atlas) -> None:
    painted = toy.painted_cm2({View.FRONT: shapely.box(10, 10, 30, 30)})
    # A quarter of each of the four squares on the left, each 5 % of the body.
    assert painted.sum() == pytest.approx(0.05 * BODY_SURFACE_CM2)
    assert np.count_nonzero(painted) == 4


def _with_front(folder: Path, text: str) -> str:
    (folder / "views" / "front.svg").write_text(text)
    with pytest.raises(AssetError) as error:
        load_atlas(folder, folder.parent / "cache")
    return str(error.value)


def test_face_without_label_is_refused_with_its_place(folder: Path) -> None:
    message = _with_front(folder, front(dermatomes={"C5": (10, 30)}))
    assert "front.svg, map dermatomes" in message
    assert "no label" in message


def test_two_labels_in_a_face_are_refused(folder: Path) -> None:
    message = _with_front(folder, front(dermatomes={"C5": (10, 30), "C6": (10, 10), "C7": (30, 9)}))
    assert "'C7' at x 30.0, y 9.0" in message
    assert "already 'C6'" in message


def test_label_outside_the_outline_is_refused(folder: Path) -> None:
    message = _with_front(folder, front(dermatomes={"C5": (10, 30), "C6": (90, 10)}))
    assert "outside the outline" in message


def test_unknown_name_is_refused(folder: Path) -> None:
    message = _with_front(folder, front(dermatomes={"C5": (10, 30), "C9": (10, 10)}))
    assert "'C9'" in message
    assert "unknown name" in message


def test_border_of_no_map_is_refused(folder: Path) -> None:
    message = _with_front(folder, front(borders='<path id="stray" class="x" d="M0,0 L9,-9"/>'))
    assert "border 'stray'" in message


def test_outline_that_crosses_itself_is_refused(folder: Path) -> None:
    bow = front().replace("M0,0 L40,0 L40,-40 L0,-40 Z", "M0,0 L40,-40 L40,0 L0,-40 Z")
    assert "crosses itself" in _with_front(folder, bow)


def test_dangling_end_cuts_nothing(folder: Path, tmp_path: Path) -> None:
    extra = '<path id="loose" class="dermatomes" d="M5,-25 L15,-35"/>'
    text = front().replace('<g id="borders">', f'<g id="borders">{extra}')
    (folder / "views" / "front.svg").write_text(text)
    assert len(load_atlas(folder, tmp_path / "cache").cells.in_view(View.FRONT)) == 8


def test_missing_drawing_and_short_table_row_are_named(folder: Path, tmp_path: Path) -> None:
    table = folder / "anatomy" / "plexus.csv"
    table.write_text(table.read_text() + "C5,upper-trunk\n")
    with pytest.raises(AssetError, match=r"plexus\.csv, line \d+"):
        _ = load_atlas(folder, tmp_path / "cache").territories
    (folder / "views" / "back.svg").unlink()
    with pytest.raises(AssetError, match=r"back\.svg"):
        load_atlas(folder, tmp_path / "cache")


class TestCache:
    def test_second_load_reads_the_cache_and_gives_the_same(
        self, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        first = load_atlas(folder, tmp_path / "cache")
        monkeypatch.setattr("bodymap.atlas.atlas.build", None)  # a build would now fail
        second = load_atlas(folder, tmp_path / "cache")
        assert shapely.equals_exact(second.cells.polygons, first.cells.polygons).all()
        assert np.array_equal(second.cells.cm2_per_unit, first.cells.cm2_per_unit)
        assert second.cells.region_names == first.cells.region_names
        for view in View:
            assert second.figures[view].outline.equals(first.figures[view].outline)

    @pytest.mark.parametrize(
        "damage",
        [
            lambda data: b"",
            lambda data: data[: len(data) // 2],
            lambda data: data[:200] + bytes(64) + data[264:],
            lambda data: b"not a cache at all",
            lambda data: data[:-30] + bytes(30),
        ],
    )
    def test_damaged_cache_is_rebuilt_silently(
        self, folder: Path, tmp_path: Path, damage: object
    ) -> None:
        first = load_atlas(folder, tmp_path / "cache")
        path = tmp_path / "cache" / "atlas.npz"
        whole = path.read_bytes()
        path.write_bytes(damage(whole))  # type: ignore[operator]
        again = load_atlas(folder, tmp_path / "cache")
        assert again.cells.area_cm2 == pytest.approx(first.cells.area_cm2)
        assert len(path.read_bytes()) == len(whole)

    def test_every_damaged_byte_of_a_sample_is_noticed_or_harmless(
        self, folder: Path, tmp_path: Path
    ) -> None:
        first = load_atlas(folder, tmp_path / "cache")
        path = tmp_path / "cache" / "atlas.npz"
        whole = path.read_bytes()
        for place in range(0, len(whole), max(1, len(whole) // 150)):
            path.write_bytes(whole[:place] + bytes([whole[place] ^ 0xFF]) + whole[place + 1 :])
            again = load_atlas(folder, tmp_path / "cache")
            assert np.array_equal(again.cells.area_cm2, first.cells.area_cm2)
            assert np.array_equal(again.cells.region, first.cells.region)

    def test_changed_asset_rebuilds(self, folder: Path, tmp_path: Path) -> None:
        load_atlas(folder, tmp_path / "cache")
        text = front(dermatomes={"C7": (10, 30), "C6": (10, 10)})
        (folder / "views" / "front.svg").write_text(text)
        changed = load_atlas(folder, tmp_path / "cache")
        assert changed.place(View.FRONT, 10, 30).dermatome == "C7"

    def test_folder_that_cannot_be_written_costs_only_time(
        self, folder: Path, tmp_path: Path
    ) -> None:
        blocked = tmp_path / "file"
        blocked.write_text("in the way")
        assert len(load_atlas(folder, blocked / "cache").cells) == 16
