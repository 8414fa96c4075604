"""The commands about handling her: in, out, what she can do, practice."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from shorefast.app.cli_options import AsJson, StayFile, brief
from shorefast.app.saying import run
from shorefast.wording import key_rows

_KEYS = "\b\nKeys\n" + "\n".join(f"  {row}" for row in key_rows())


def approach(
    stay: StayFile,
    let_go: Annotated[
        bool, typer.Option("--let-go", help="Also: how many anchors lie in the patch.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """How is she brought in?

    The way astern, where it begins and in what wind she is held on it; the calls,
    metre by metre; the lines ashore; and what to break off for.
    """
    run("approach", as_json, "Trying the way in", stay, let_go)


def leave(
    stay: StayFile,
    at: Annotated[
        str | None,
        typer.Option("--at", metavar="TIME", help="Now is this hour; the stay's first without."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Can she leave, and how?

    Now, in an hour, at first light and over the stay's hours: in which order the
    lines are let go, which is doubled back, and whether there is room on her way out.
    """
    run("leave", as_json, "Trying the ways out", stay, at)


def able(
    boat_or_stay: Annotated[
        Path, typer.Argument(metavar="BOAT_OR_STAY", help="A boat file, or a stay file.")
    ],
    chain_out: Annotated[
        list[float] | None,
        typer.Option("--chain-out", metavar="M", help="Also with just so much out (repeatable)."),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FOLDER", help="Draw able.svg and able.pdf.")
    ] = None,
    palette: Annotated[
        str, typer.Option("--palette", metavar="NAME", help="The drawing's: day, night or print.")
    ] = "print",
    as_json: AsJson = False,
) -> None:
    """What can this boat do?

    By depth and slope: the pull before her shank lifts, the winds it equals, the
    chain a wind asks for. What engine, lines and windlass can; how she drifts.
    """
    run("able", as_json, "Working out what she can do", boat_or_stay, chain_out or [], out, palette)


def practise(
    stay: StayFile,
    script: Annotated[
        Path | None,
        typer.Option("--script", metavar="FILE", help="Orders with their times; else the keys."),
    ] = None,
    wind: Annotated[
        float | None, typer.Option("--wind", metavar="KN", help="Mean wind instead of forecast's.")
    ] = None,
    wind_from: Annotated[
        float | None, typer.Option("--from", metavar="DEG", help="Where it comes from, true.")
    ] = None,
    gusts: Annotated[bool, typer.Option("--gusts", help="Gusty instead of steady.")] = False,
    seed: Annotated[
        int | None, typer.Option("--seed", metavar="N", help="Draws gusts and drawn failures.")
    ] = None,
    fail: Annotated[
        list[str] | None,
        typer.Option(
            "--fail", metavar="KIND@TIME", help="Like 'engine stops @ 90', or drawn (repeatable)."
        ),
    ] = None,
    let_go: Annotated[
        bool, typer.Option("--let-go", help="Also: is the anchor in the patch that is sound?")
    ] = False,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FOLDER", help="Write practice.txt, track.svg, track.pdf."),
    ] = None,
    palette: Annotated[
        str, typer.Option("--palette", metavar="NAME", help="The track's: day, night or print.")
    ] = "day",
    as_json: AsJson = False,
) -> None:
    """Can we practise?

    Bring her in on a plan of the bay, by keys or by a script, as often as you
    like, with gusts and with what fails; then what it came to against the plan.
    """
    told = {"wind_kn": wind, "from_deg": wind_from, "gusts": gusts, "seed": seed}
    title = "" if script is None else "Practising"
    run("practise", as_json, title, stay, script, out, palette, let_go, fail=fail or [], **told)


HANDLING = (
    (approach, brief(1, 3, 4, 7)),
    (leave, brief(3, 4, 7, 8)),
    (able, brief(1, 2, 6, 9)),
    (practise, f"{_KEYS}\n\n{brief(1, 3, 4, 5, 6)}"),
)
"""Each command with the foot of its help."""
