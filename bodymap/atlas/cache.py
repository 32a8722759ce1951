"""The built atlas, kept for each user so that the next start takes milliseconds.

The cache is keyed by a fingerprint of the assets and the versions of what built
it. A missing, damaged or foreign cache is not an error: the atlas is built again
and the cache replaced. A folder that cannot be written costs only time.
"""

import contextlib
import io
import os
import tempfile
import zipfile
import zlib
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import platformdirs
import shapely

from bodymap.atlas.cells import VIEWS, Cells
from bodymap.atlas.figure import Figure, SoftShape, Stroke
from bodymap.terms import View

FORM = "1"
"""Form of the cache file; changes whenever what is stored changes."""

COLUMNS = ("view", "left", "dermatome", "nerve", "region", "cm2_per_unit", "twin")


def cache_file(folder: Path | None = None) -> Path:
    """Where the built atlas is kept (``BODYMAP_CACHE`` names another folder)."""
    chosen = folder or os.environ.get("BODYMAP_CACHE") or platformdirs.user_cache_dir("bodymap")
    return Path(chosen) / "atlas.npz"


def stored(path: Path, key: str) -> tuple[Cells, dict[View, Figure]] | None:
    """The atlas in a cache file, or None if the file does not hold the one asked for."""
    try:
        with np.load(io.BytesIO(path.read_bytes()), allow_pickle=False) as file:
            if str(file["key"]) != key:
                return None
            return _cells_from(file), _figures_from(file)
    # NotImplementedError is how zipfile refuses a damaged compression field.
    except (OSError, ValueError, KeyError, IndexError, EOFError, zipfile.BadZipFile, zlib.error,
            shapely.GEOSException, NotImplementedError):  # fmt: skip
        return None


def store(path: Path, key: str, cells: Cells, figures: dict[View, Figure]) -> None:
    """Write the cache file as a whole; failure to write is silent."""
    arrays: dict[str, npt.NDArray[Any]] = {"key": np.array(key)}
    _put_shapes(arrays, "cells", cells.polygons)
    for name in COLUMNS:
        arrays[name] = getattr(cells, name)
    arrays["nerve_names"] = np.array(cells.nerve_names)
    arrays["region_names"] = np.array(cells.region_names)
    for view, figure in figures.items():
        outline = np.empty(1, dtype=object)
        outline[0] = shapely.multipolygons(shapely.get_parts(figure.outline))
        _put_shapes(arrays, f"{view}/outline", outline)
        _put_runs(arrays, f"{view}/lines", [s.points for s in figure.lines])
        arrays[f"{view}/weights"] = np.array([s.weight for s in figure.lines])
        _put_runs(arrays, f"{view}/shapes", [s.ring for s in figure.shapes])
        arrays[f"{view}/kinds"] = np.array([s.kind for s in figure.shapes], dtype=str)
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, suffix=".part")
        try:
            with os.fdopen(handle, "wb") as file:
                np.savez(file, **arrays)  # type: ignore[arg-type]
            os.replace(temporary, path)
        except OSError:
            os.unlink(temporary)


def _put_shapes(
    arrays: dict[str, npt.NDArray[Any]], name: str, shapes: npt.NDArray[np.object_]
) -> None:
    _, points, offsets = shapely.to_ragged_array(shapes)
    arrays[f"{name}/points"] = points
    for number, offset in enumerate(offsets):
        arrays[f"{name}/offset{number}"] = offset


def _put_runs(
    arrays: dict[str, npt.NDArray[Any]], name: str, runs: list[npt.NDArray[np.float64]]
) -> None:
    arrays[f"{name}/points"] = np.concatenate(runs) if runs else np.zeros((0, 2))
    arrays[f"{name}/ends"] = np.cumsum([len(r) for r in runs], dtype=np.int64)


def _runs(file: Any, name: str) -> list[npt.NDArray[np.float64]]:
    ends = file[f"{name}/ends"]
    return np.split(file[f"{name}/points"], ends[:-1]) if len(ends) else []


def _cells_from(file: Any) -> Cells:
    polygons = shapely.from_ragged_array(
        shapely.GeometryType.POLYGON,
        file["cells/points"],
        (file["cells/offset0"], file["cells/offset1"]),
    )
    columns = {name: file[name] for name in COLUMNS}
    nerve_names = tuple(file["nerve_names"].tolist())
    region_names = tuple(file["region_names"].tolist())
    return Cells(polygons, nerve_names=nerve_names, region_names=region_names, **columns)


def _figures_from(file: Any) -> dict[View, Figure]:
    figures = {}
    for view in VIEWS:
        outline = shapely.from_ragged_array(
            shapely.GeometryType.MULTIPOLYGON,
            file[f"{view}/outline/points"],
            tuple(file[f"{view}/outline/offset{n}"] for n in range(3)),
        )[0]
        weights, kinds = file[f"{view}/weights"].tolist(), file[f"{view}/kinds"].tolist()
        figures[view] = Figure(
            view,
            outline.geoms[0] if len(outline.geoms) == 1 else outline,
            tuple(map(Stroke, _runs(file, f"{view}/lines"), weights)),
            tuple(map(SoftShape, _runs(file, f"{view}/shapes"), kinds)),
        )
    return figures
