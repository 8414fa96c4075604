"""How long a function, a file and a list of arguments may be."""

import ast
from pathlib import Path

ROOT = Path(__file__).parents[1]
FILES = sorted(path for part in ("src", "tests", "tools") for path in (ROOT / part).rglob("*.py"))
SHIPPED = [path for path in FILES if path.is_relative_to(ROOT / "src")]
BRANCHES = (
    ast.If, ast.IfExp, ast.For, ast.While, ast.ExceptHandler, ast.match_case,
)  # fmt: skip
NAMED = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
EMPTY_NAMES = {"utils", "helpers", "common", "manager", "base"}


def _shown(path):
    return path.relative_to(ROOT).as_posix()


def _functions(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def _body_lines(function):
    body = function.body
    if ast.get_docstring(function, clean=False) is not None:
        body = body[1:]
    return body[-1].end_lineno - body[0].lineno + 1 if body else 0


def _own(function):
    """The nodes of a function without those of functions inside it."""
    waiting = list(ast.iter_child_nodes(function))
    while waiting:
        node = waiting.pop()
        yield node
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            waiting.extend(ast.iter_child_nodes(node))


def _arguments(function):
    """Names that must be given in order; what has a default or is a kernel's is left out."""
    names = [argument.arg for argument in function.args.posonlyargs + function.args.args]
    must = names[: len(names) - len(function.args.defaults)]
    return [name for name in must if name not in ("self", "cls")]


def _is_kernel(function):
    return any(
        getattr(mark, "id", "") in ("kernel", "lean_kernel", "hot_kernel")
        for mark in function.decorator_list
    )


def _too_large(files, size, most):
    return [
        f"{_shown(path)}, line {function.lineno}, {function.name}: {size(function)}"
        for path in files
        for function in _functions(path)
        if size(function) > most
    ]


def test_a_file_stays_under_four_hundred_lines():
    lines = {_shown(path): len(path.read_text(encoding="utf-8").splitlines()) for path in FILES}
    assert {path: count for path, count in lines.items() if count > 400} == {}


def test_a_function_stays_under_fifty_lines():
    assert _too_large(FILES, _body_lines, 50) == []


def test_a_function_branches_ten_times_at_most():
    def branches(function):
        return sum(isinstance(node, BRANCHES) for node in _own(function))

    assert _too_large(FILES, branches, 10) == []


def test_six_arguments_need_a_type():
    def arguments(function):
        return 0 if _is_kernel(function) else len(_arguments(function))

    assert _too_large(SHIPPED, arguments, 5) == []


def test_nine_functions_of_ten_stay_under_thirty_lines():
    sizes = [_body_lines(function) for path in SHIPPED for function in _functions(path)]
    assert sum(size < 30 for size in sizes) >= 0.9 * len(sizes)


def test_every_public_name_says_what_it_is():
    silent = []
    for path in SHIPPED:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        nodes = [tree, *(node for node in tree.body if isinstance(node, NAMED))]
        silent += [
            f"{_shown(path)}: {getattr(node, 'name', 'the file')}"
            for node in nodes
            if not getattr(node, "name", "").startswith("_")
            if len(ast.get_docstring(node) or "") < 8
        ]
    assert silent == []


def test_no_file_has_a_name_that_says_nothing():
    assert [path for path in FILES if path.stem in EMPTY_NAMES] == []
