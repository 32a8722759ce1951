"""Where the figure, the maps and the fact tables lie, and their fingerprint.

An installed wheel carries them inside the package; a checkout has them beside it.
"""

import csv
import hashlib
from pathlib import Path

from bodymap.errors import AssetError
from bodymap.language import tr

AUTHORED_VIEWS = ("front", "back", "sole", "head-side", "saddle")


def assets_folder() -> Path:
    """The folder that holds ``views/``, ``anatomy/`` and ``localisation/``."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "assets", package.parent / "assets"):
        if (folder / "views").is_dir():
            return folder
    raise AssetError(tr("The folder assets/ is missing: reinstall bodymap."))


def view_file(folder: Path, name: str) -> Path:
    """The SVG of an authored view."""
    return folder / "views" / f"{name}.svg"


def table(folder: Path, name: str, topic: str = "anatomy") -> list[dict[str, str]]:
    """The rows of a fact table, as text.

    Raises AssetError if the table is missing or a row has the wrong length.
    """
    path = folder / topic / f"{name}.csv"
    try:
        with path.open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file, restkey="surplus"))
    except OSError:
        gone = tr("The table {file} is missing: reinstall bodymap.", file=path.name)
        raise AssetError(gone) from None
    for number, row in enumerate(rows, start=2):
        if "surplus" in row or None in row.values():
            raise AssetError(f"{path.name}, line {number}: wrong number of columns; mend the line.")
    return rows


def listed(cell: str) -> tuple[str, ...]:
    """The items of a table cell that holds a list."""
    return tuple(item.strip() for item in cell.split(";") if item.strip())


def fingerprint(folder: Path, *salts: str) -> str:
    """A hash over every asset that the partition depends on, and the salts."""
    digest = hashlib.sha256()
    for salt in salts:
        digest.update(salt.encode())
    paths = [view_file(folder, name) for name in AUTHORED_VIEWS]
    paths += sorted((folder / "anatomy").glob("*.csv"))
    for path in paths:
        digest.update(path.name.encode())
        try:
            digest.update(path.read_bytes())
        except OSError:
            gone = tr("The asset {file} is missing: reinstall bodymap.", file=path.name)
            raise AssetError(gone) from None
    return digest.hexdigest()
