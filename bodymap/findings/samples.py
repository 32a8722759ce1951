"""The invented cases that come with bodymap.

An installed wheel carries them inside the package; a checkout has them beside it.
Each says in its field ``shows`` what it should show.
"""

from pathlib import Path

from bodymap.errors import RequestError
from bodymap.faults import nearest
from bodymap.language import tr


def samples_folder() -> Path:
    """The folder of the sample cases.

    Raises RequestError if it is missing.
    """
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "samples", package.parent / "samples"):
        if next(folder.glob("*.json"), None) is not None:
            return folder
    raise RequestError(tr("The folder samples/ is missing: reinstall bodymap."))


def sample_files() -> tuple[Path, ...]:
    """The files of all sample cases, in the order of their names."""
    return tuple(sorted(samples_folder().glob("*.json")))


def sample_file(name: str) -> Path:
    """The file of the sample case of this name.

    Raises RequestError, with the nearest known name, if there is none.
    """
    known = {path.stem: path for path in sample_files()}
    if name.removesuffix(".json") not in known:
        near = nearest(name, tuple(known))
        if near:
            raise RequestError(
                tr("There is no sample '{id}'; did you mean '{near}'?", id=name, near=near)
            )
        raise RequestError(tr("There is no sample '{id}'; 'bodymap sample' lists them.", id=name))
    return known[name.removesuffix(".json")]
