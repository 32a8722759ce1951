"""The walls of the house: the core never meets Qt, and imports run one way."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import bodymap

PACKAGE = Path(bodymap.__file__).parent
FLOORS = [
    "errors",
    "language",
    "terms",
    "faults",
    "geometry",
    "folding",
    "atlas",
    "classification",
    "findings",
    "examination",
    "localise",
    "wording",
    "simulation",
    "report",
    "slides",
    "practice",
]
"""Each may import itself and what stands before it."""

FACES = {"cli", "gui", "rendering", "__main__"}
MODULES = sorted(PACKAGE.rglob("*.py"))


def _imports(path: Path) -> set[str]:
    """Every module named in an import, also inside functions."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name}: relative import"
            found.add(node.module or "")
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
        elif (
            isinstance(node, ast.Call)
            and getattr(node.func, "attr", getattr(node.func, "id", "")) == "import_module"
        ):
            found |= {a.value for a in node.args if isinstance(a, ast.Constant)}
    return found


def _floor(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def _named(module: str) -> str | None:
    parts = module.split(".")
    return parts[1] if parts[0] == "bodymap" and len(parts) > 1 else None


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_core_imports_no_qt(path: Path) -> None:
    if _floor(path) in FACES:
        pytest.skip("a face, not the core")
    qt = {m for m in _imports(path) if m.split(".")[0] in ("PySide6", "shiboken6", "PyQt6")}
    assert not qt


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_run_downwards(path: Path) -> None:
    floor = _floor(path)
    used = {named for m in _imports(path) if (named := _named(m))} - {"__version__"}
    if floor in FLOORS:
        assert used <= set(FLOORS[: FLOORS.index(floor) + 1])
    elif floor == "cli":
        # The command line opens the window through one function and knows no more of it.
        gui = {m for m in _imports(path) if m.startswith("bodymap.gui")}
        assert gui <= {"bodymap.gui.app", "bodymap.gui.app.run"}
    elif floor == "gui":
        assert "cli" not in used


def test_every_module_stands_on_a_known_floor() -> None:
    assert {_floor(p) for p in MODULES} - {"__init__"} == set(FLOORS) | FACES


def test_whole_core_loads_where_qt_cannot_be_imported() -> None:
    core = [p for p in MODULES if _floor(p) in FLOORS]
    names = [
        ".".join(("bodymap", *p.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(
            ".__init__"
        )
        for p in core
    ]
    program = (
        "import sys\n"
        "sys.modules['PySide6'] = None\n"
        "import importlib\n"
        f"for name in {names!r}: importlib.import_module(name)\n"
        "assert not [m for m in sys.modules if m.startswith('PySide6.')]\n"
    )
    result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert result.returncode == 0, result.stderr


def test_only_geometry_calls_set_operations() -> None:
    forbidden = {"union_all", "intersection", "difference", "union", "symmetric_difference",
                 "unary_union", "coverage_union_all", "make_valid", "polygonize"}  # fmt: skip
    for path in MODULES:
        if path.name == "geometry.py" and path.parent == PACKAGE:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute) and node.attr in forbidden:
                owner = getattr(node.value, "id", "")
                assert owner not in ("shapely", "ops"), f"{path.name}, line {node.lineno}"
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("shapely"):
                assert not forbidden & {a.name for a in node.names}, path.name
