"""Ask a question by its command's name, from terminal, page or notebook alike."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    from shorefast.app.answer import Answer

COMMANDS = (
    "demo", "judge", "choose", "ease", "stand", "proof", "chain", "approach", "leave", "able",
    "practise", "sheet", "cards", "verify", "bay", "weather",
)  # fmt: skip


def ask(command: str, *given: Any, **named: Any) -> Answer:
    """The answer to one command; paths may be given as text.

    Only the module of that command is loaded, since others bring heavy libraries.

    Parameters
    ----------
    command : str
        One of ``COMMANDS``.
    given, named :
        What ``answer_<command>`` takes; ``progress`` is dropped where it is not taken.

    Raises
    ------
    ShorefastError
        Any of the five kinds.
    """
    answer = _answer_function(command)
    signature = inspect.signature(answer)
    if "progress" not in signature.parameters:
        named.pop("progress", None)
    bound = signature.bind(*given, **named)
    for name, value in bound.arguments.items():
        if "Path" in str(signature.parameters[name].annotation):
            bound.arguments[name] = _as_path(value)
    return cast("Answer", answer(*bound.args, **bound.kwargs))


def _answer_function(command: str) -> Callable[..., Any]:
    module = import_module(f"shorefast.app.answers.{command}")
    return cast("Callable[..., Any]", getattr(module, f"answer_{command}"))


def _as_path(value: Any) -> Any:
    if isinstance(value, str):
        return Path(value)
    if isinstance(value, list | tuple):
        return type(value)(_as_path(item) for item in value)
    return value
