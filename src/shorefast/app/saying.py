"""What a command says in the end: its answer, or one sentence and an exit code."""

from __future__ import annotations

import gc
import io
import sys
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import Any

import typer

from shorefast.app.answer import Answer, error_to_json, to_json
from shorefast.app.ask import ask
from shorefast.app.progress import shown
from shorefast.errors import BadInput, ShorefastError, Unavailable, Unreadable

OUR_FAULT, THE_INPUT, THE_FILE = 1, 2, 3


def run(command: str, as_json: bool, title: str, *given: Any, **named: Any) -> None:
    """Ask, and print the answer as text or as one line of JSON."""
    with shown(title) as progress:
        answer = ask(command, *given, **named, progress=progress)
    typer.echo(to_json(answer) if as_json else _for_people(answer))
    if not answer.passed:
        raise typer.Exit(OUR_FAULT)


def finish(command_line: Callable[..., Any]) -> None:
    """Run the command line; every trouble ends in a sentence and an exit code."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    code = _exit_code(command_line)
    gc.freeze()  # the process ends: nothing is left to seek through
    sys.exit(code)


def _exit_code(command_line: Callable[..., Any]) -> int:
    try:
        return command_line(prog_name="shorefast", standalone_mode=False) or 0
    except ShorefastError as error:
        return _say(error)
    except BrokenPipeError:
        sys.stdout = io.StringIO()
        return OUR_FAULT
    except (typer.Abort, KeyboardInterrupt):
        return 130
    except OSError as trouble:
        return _say(_from_system(trouble))
    except typer.TyperException as trouble:
        return _say(_from_usage(trouble))
    except Exception as trouble:  # noqa: BLE001 (a skipper never sees a traceback)
        return _say(_from_inside(trouble))


def _say(error: ShorefastError) -> int:
    if "--json" in sys.argv[1:]:
        typer.echo(error_to_json(error))
    else:
        typer.echo(error.sentence, err=True)
    if isinstance(error, BadInput):
        return THE_INPUT
    return THE_FILE if isinstance(error, Unreadable) else OUR_FAULT


def _from_usage(trouble: typer.TyperException) -> BadInput:
    context = getattr(trouble, "ctx", None)
    path = context.command_path if context is not None else "shorefast"
    said = trouble.format_message().rstrip(".")
    return BadInput(path, said[:1].lower() + said[1:], "", f"See {path} --help.")


def _from_system(trouble: OSError) -> BadInput:
    return BadInput(
        str(trouble.filename or "A file"),
        (trouble.strerror or type(trouble).__name__).lower(),
        "",
        "Give another path, or make it readable and writable with room on the disk.",
    )


def _from_inside(trouble: Exception) -> Unavailable:
    return Unavailable(
        "Shorefast",
        f"no answer, {type(trouble).__name__} inside",
        "",
        f"It is our fault, not yours. The trace is kept in {_keep_trace()}.",
    )


def _keep_trace() -> Path:
    from shorefast.compiled import cache_root

    kept_in = cache_root() / "trouble.log"
    kept_in.parent.mkdir(parents=True, exist_ok=True)
    with kept_in.open("a", encoding="utf-8") as log:
        log.write(f"{sys.argv}\n{traceback.format_exc()}\n")
    return kept_in


def _for_people(answer: Answer) -> str:
    written = [f"Written: {path}" for path in answer.written]
    return "\n".join([answer.text.rstrip(), *written])
