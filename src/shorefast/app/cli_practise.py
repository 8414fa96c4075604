"""``shorefast practise`` on the command line."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from shorefast.app.saying import run
from shorefast.wording import key_rows

KEYS_SAID = "\b\nKeys\n" + "\n".join(f"  {row}" for row in key_rows())


def practise(
    stay: Annotated[Path, typer.Argument(metavar="STAY", help="A stay file (stay.toml).")],
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
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FOLDER", help="Write practice.txt, track.svg, track.pdf."),
    ] = None,
    palette: Annotated[
        str, typer.Option("--palette", metavar="NAME", help="The track's: day, night or print.")
    ] = "day",
    as_json: Annotated[
        bool, typer.Option("--json", help="One JSON object in SI units instead.")
    ] = False,
) -> None:
    """Can we practise?

    Bring her in on a plan of the bay, by keys or by a script, as often as you
    like, with gusts and with what fails; then what it came to against the plan.
    """
    told = {"wind_kn": wind, "from_deg": wind_from, "gusts": gusts, "seed": seed}
    title = "" if script is None else "Practising"
    run("practise", as_json, title, stay, script, out, palette, fail=fail or [], **told)
