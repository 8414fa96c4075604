"""What a command says when the trouble is not the skipper's."""

import json
import sys

import pytest
import typer

from shorefast.app import saying
from shorefast.app.answer import Answer
from shorefast.basis import Basis
from shorefast.errors import NoRest, OutsideModel, Unavailable


def _finish(trouble, monkeypatch, *words):
    command_line = typer.Typer()

    @command_line.command()
    def asked(as_json: bool = typer.Option(False, "--json")) -> None:
        raise trouble

    monkeypatch.setattr(sys, "argv", ["shorefast", *words])
    with pytest.raises(SystemExit) as left:
        saying.finish(command_line)
    return left.value.code


@pytest.mark.parametrize("kind", [OutsideModel, NoRest, Unavailable])
def test_what_is_ours_leaves_with_one(kind, monkeypatch, capsys):
    assert _finish(kind("Rest", "none found", "", "Give another start."), monkeypatch) == 1
    assert capsys.readouterr().err == "Rest: none found. Give another start.\n"


def test_a_fault_inside_is_one_sentence_and_the_trace_is_kept(monkeypatch, capsys, tmp_path):
    monkeypatch.setenv("SHOREFAST_CACHE", str(tmp_path))
    assert _finish(KeyError("rode"), monkeypatch) == 1
    assert capsys.readouterr().err == (
        "Shorefast: no answer, KeyError inside. It is our fault, not yours. "
        f"The trace is kept in {tmp_path / 'trouble.log'}.\n"
    )
    assert "KeyError: 'rode'" in (tmp_path / "trouble.log").read_text(encoding="utf-8")


def test_a_full_disk_is_one_sentence(monkeypatch, capsys):
    trouble = OSError(28, "No space left on device", "sheet.pdf")
    assert _finish(trouble, monkeypatch) == 2
    assert capsys.readouterr().err == (
        "sheet.pdf: no space left on device. "
        "Give another path, or make it readable and writable with room on the disk.\n"
    )


def test_an_error_can_be_had_as_json(monkeypatch, capsys):
    assert _finish(NoRest("Rest", "none found", "", "Look."), monkeypatch, "--json") == 1
    assert json.loads(capsys.readouterr().out)["kind"] == "NoRest"


def test_breaking_off_is_no_trouble(monkeypatch, capsys):
    assert _finish(KeyboardInterrupt(), monkeypatch) == 130
    assert "Traceback" not in capsys.readouterr().err


def _run(answer, monkeypatch, capsys, as_json=False):
    monkeypatch.setattr(saying, "ask", lambda *given, **named: answer)
    saying.run("sheet", as_json, "Drawing", "stay.toml")
    return capsys.readouterr().out


def test_an_answer_is_said_with_what_was_written(monkeypatch, capsys, tmp_path):
    answer = Answer("sheet", {}, Basis(), "Two files.\n", (tmp_path / "sheet.pdf",))
    assert _run(answer, monkeypatch, capsys) == f"Two files.\nWritten: {tmp_path / 'sheet.pdf'}\n"


def test_a_check_that_failed_leaves_with_one(monkeypatch, capsys):
    with pytest.raises(typer.Exit) as left:
        _run(Answer("verify", {}, Basis(), "one out", passed=False), monkeypatch, capsys)
    assert left.value.exit_code == 1
