"""Who may know whom: the table of the tree, kept by the build."""

import ast
import importlib
import subprocess
import sys
from pathlib import Path

import grimp

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "src" / "shorefast"
MODULES = sorted(path for path in PACKAGE.rglob("*.py"))
MAY_LOAD_LATE = {"app", "readers"}
DOORS = {"app", "readers", "wording", "drawing"}
# Printed formulas and tables whose own unit is the foot, the pound or the horsepower.
PRINTED_IN_OTHER_UNITS = {"boat/design_loads.py", "boat/rope.py", "boat/thrust.py"}
WITHOUT_UNIT = {"STANDARD_GRAVITY_MPS2", "YEAR_S", "wrap_rad"}
MACHINE = {"logging", "os", "random", "socket", "subprocess", "time", "urllib"}
MAY_ASK_THE_MACHINE = {"app", "readers", "logbook", "compiled.py"}


def _top(path):
    return path.relative_to(PACKAGE).parts[0]


def _shown(path):
    return str(path.relative_to(PACKAGE)).replace("\\", "/")


def _tree(path):
    return ast.parse(path.read_text(encoding="utf-8"))


def _imported(path):
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.ImportFrom) and node.module:
            yield node.module, [alias.name for alias in node.names]
        elif isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, []


def test_imports_point_up_the_table():
    run = subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command as c; c()"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr


def test_no_package_reaches_deeper_than_what_another_shows():
    deep = [
        f"{_shown(path)}: {module}"
        for path in MODULES
        for module, _ in _imported(path)
        if module.startswith("shorefast.")
        and module.count(".") > 1
        and module.split(".")[1] != _top(path)
        and path != PACKAGE / "__init__.py"
    ]
    assert deep == []


def test_every_name_taken_from_another_package_is_one_it_shows():
    hidden = [
        f"{_shown(path)}: {module}.{name}"
        for path in MODULES
        for module, names in _imported(path)
        if module.startswith("shorefast.")
        and module.count(".") == 1
        and (PACKAGE / module.split(".")[1]).is_dir()
        and module.split(".")[1] != _top(path)
        for name in names
        if name not in importlib.import_module(module).__all__
    ]
    assert hidden == []


def test_nothing_is_imported_inside_a_function():
    late = [
        f"{_shown(path)}, line {inner.lineno}"
        for path in MODULES
        if _top(path) not in MAY_LOAD_LATE
        for node in ast.walk(_tree(path))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        for inner in ast.walk(node)
        if isinstance(inner, ast.Import | ast.ImportFrom)
    ]
    assert late == []


def test_no_two_modules_need_each_other():
    graph = grimp.build_graph("shorefast", exclude_type_checking_imports=True)
    waiting = {
        module: set(graph.find_modules_directly_imported_by(module)) for module in graph.modules
    }
    while free := {module for module, needs in waiting.items() if not needs & waiting.keys()}:
        waiting = {module: needs for module, needs in waiting.items() if module not in free}
    assert sorted(waiting) == []


def test_knots_and_feet_stay_at_the_door():
    inside = [
        f"{_shown(path)}: {name}"
        for path in MODULES
        if _top(path) not in DOORS and _shown(path) not in PRINTED_IN_OTHER_UNITS
        for module, names in _imported(path)
        if module == "shorefast.quantities"
        for name in names
        if name not in WITHOUT_UNIT
    ]
    assert inside == []


def test_the_sums_ask_nothing_of_the_machine():
    asked = [
        f"{_shown(path)}: {module}"
        for path in MODULES
        if _top(path) not in MAY_ASK_THE_MACHINE
        for module, _ in _imported(path)
        if module.split(".")[0] in MACHINE
    ]
    assert asked == []


def test_the_sums_never_ask_what_time_it_is():
    asked = [
        f"{_shown(path)}, line {node.lineno}"
        for path in MODULES
        if _top(path) not in MAY_ASK_THE_MACHINE
        for node in ast.walk(_tree(path))
        if isinstance(node, ast.Attribute) and node.attr in {"now", "utcnow", "today"}
    ]
    assert asked == []
