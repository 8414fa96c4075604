"""The command line: one command a question."""

from __future__ import annotations

import gc
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from shorefast.app.cli_handling import HANDLING
from shorefast.app.cli_options import AsJson, Out, StayFile, brief
from shorefast.app.places import course, place
from shorefast.app.saying import finish, run
from shorefast.basis import VERSION
from shorefast.wording import CAUTIONS_SHORT

_CAUTIONS = "\b\nCautions\n" + "\n".join(f"  {text}" for text in CAUTIONS_SHORT)

# Garbage is sought after so many new objects. The libraries alone make 150 000 that stay;
# Python's own 700 has it walk them again and again, a third of a second in every answer.
_MADE_BEFORE_SEEKING = 100_000

app = typer.Typer(
    add_completion=False,
    rich_markup_mode=None,
    invoke_without_command=True,
    epilog=_CAUTIONS,
    context_settings={"help_option_names": ["--help", "-h"], "max_content_width": 96},
)

Runs = Annotated[
    list[Path] | None,
    typer.Option("--soundings", metavar="FILE", help="Of a run; - listens (repeatable)."),
]
RunDay = Annotated[
    str | None, typer.Option("--day", metavar="DATE", help="UTC day of a log without one.")
]
IfOneGoes = Annotated[
    bool, typer.Option("--if-one-goes", help="Also: every line, point, cleat, the anchor gone.")
]
HowSure = Annotated[
    bool, typer.Option("--odds", help="Also: how sure that is, every doubt drawn at once.")
]
Samples = Annotated[
    int | None, typer.Option("--samples", metavar="N", help="So many samples for --odds.")
]
GustResponse = Annotated[
    bool, typer.Option("--gust-response", help="Also: moved in gusty winds, in time.")
]
WhereToLetGo = Annotated[
    bool, typer.Option("--let-go", help="Also: the patch from which the lie still is sound.")
]
GroundSwept = Annotated[
    bool, typer.Option("--ground-swept", help="Also: the bed her chain scours.")
]
GroundOut = Annotated[
    Path | None, typer.Option("--out", metavar="FOLDER", help="Draw the ground swept here.")
]


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"Shorefast {VERSION}")
        raise typer.Exit


@app.callback()
def shorefast(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say the version.")
    ] = False,
) -> None:
    """Can she lie here, anchor down and lines ashore from the stern?

    Every command answers one of the skipper's questions. Unknown is said as
    unknown. Exit 0: answered; 1: our fault; 2: your input; 3: an unreadable file.
    """
    if context.invoked_subcommand is None:
        typer.echo(context.get_help())


@app.command(epilog=brief(1))
def demo(
    scenario: Annotated[
        str | None, typer.Argument(metavar="SCENARIO", help="One of the three; all if left out.")
    ] = None,
    out: Out = Path("shorefast-demo"),
    as_json: AsJson = False,
) -> None:
    """Judge the three bays that come with Shorefast.

    Writes their files, ready to be changed and judged again, and their sheets.
    """
    run("demo", as_json, "Judging the demo bays", scenario, out)


@app.command(epilog=brief(1, 7, 8))
def judge(
    stay: StayFile,
    soundings: Runs = None,
    day: RunDay = None,
    odds: HowSure = False,
    samples: Samples = None,
    let_go: WhereToLetGo = False,
    if_one_goes: IfOneGoes = False,
    gust_response: GustResponse = False,
    ground_swept: GroundSwept = False,
    out: GroundOut = None,
    as_json: AsJson = False,
) -> None:
    """Can she lie here until morning?

    The use of every part, hour by hour and member by member; the worst hour;
    the hour to leave by; the room under her and round her.
    """
    live = {"soundings": soundings or [], "day": day, "say": partial(typer.echo, err=as_json)}
    also = {"let_go": let_go, "if_one_goes": if_one_goes, "gust_response": gust_response}
    more = {
        "odds": odds if samples is None else samples,
        "ground_swept": ground_swept if out is None else out,
    }
    run("judge", as_json, "Judging the stay", stay, **live, **also, **more)


@app.command(epilog=brief(1, 5, 6))
def ease(
    stay: StayFile,
    at: Annotated[
        str | None,
        typer.Option("--at", metavar="TIME", help="This hour; the stay's first if left out."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """How much do I ease, take in, veer or heave in?

    What a metre on each length does to each part's use and to the room, at this
    hour and at the worst; the least change that brings her inside her limits.
    """
    run("ease", as_json, "Trying the lengths", stay, at)


@app.command(epilog=brief(1, 7, 8))
def choose(
    stay: StayFile,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FOLDER", help="Write a ready stay file of each here."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Which lie?

    Lies to choose between in this bay for these hours, best first, with the
    reasons, and which single change helps most.
    """
    run("choose", as_json, "Trying lies", stay, out)


@app.command(epilog=brief(1, 7))
def stand(stay: StayFile, as_json: AsJson = False) -> None:
    """What will it stand?

    For every direction the steady wind at which something passes its limit, and
    which part that is.
    """
    run("stand", as_json, "Seeking the limit winds", stay)


@app.command(epilog=brief(2, 3, 5, 6))
def proof(stay: StayFile, as_json: AsJson = False) -> None:
    """Did I prove enough? How do I prove her, and settle her after it?

    What the stay will ask of the anchor, and what the engine astern proves; the
    steps of revs with the chain's lead at each, two transits to watch, what counts
    as moving and what to do then; how each line is left, and how far off she lies
    at each tide.
    """
    run("proof", as_json, "Weighing the proof", stay)


@app.command(epilog=brief(4, 5))
def chain(
    stay: StayFile,
    from_vertical: Annotated[
        float,
        typer.Option("--from-vertical", metavar="DEG", help="The chain's angle; 0 is up and down."),
    ],
    chain_out: Annotated[
        float | None,
        typer.Option("--chain-out", metavar="M", help="Out as it is read; the lie's without."),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """What does this chain angle mean?

    The pull that the chain's angle at the roller tells, with its error, or that
    all of it is lifted and the angle no longer tells.
    """
    run("chain", as_json, "Asking the chain", stay, from_vertical, chain_out)


@app.command(epilog=brief(1, 3, 9))
def sheet(
    stay: StayFile,
    out: Out = Path(),
    palette: Annotated[
        str, typer.Option("--palette", metavar="NAME", help="day, night or print.")
    ] = "day",
    soundings: Runs = None,
    day: RunDay = None,
    as_json: AsJson = False,
) -> None:
    """Draw the sheet for the crew.

    Plan, profile, what it will stand, if one goes and the strip of the stay, as
    sheet.svg and sheet.pdf.
    """
    run("sheet", as_json, "Drawing the sheet", stay, out, palette, soundings or [], day)


@app.command(epilog=brief(1, 3, 11))
def cards(
    stay: StayFile,
    out: Out = Path(),
    paper: Annotated[
        str, typer.Option("--paper", metavar="SIZE", help="a4 (four a page) or a6.")
    ] = "a4",
    language: Annotated[
        str, typer.Option("--language", metavar="NAME", help="en, fr or es.")
    ] = "en",
    if_one_goes: IfOneGoes = False,
    as_json: AsJson = False,
) -> None:
    """Who says what, when?

    A small card for everybody aboard, the night card, the watch bill (also as a
    calendar) and the sheet of the bay, black on white.
    """
    wanted = {"with_losses": if_one_goes}
    run("cards", as_json, "Writing the cards", stay, out, paper, language, **wanted)


@app.command(epilog=brief(1))
def verify(
    files: Annotated[
        list[Path] | None,
        typer.Argument(metavar="FILES", help="Case files; those shipped if left out."),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FILE", help="Write the tables here too.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Are the sums right?

    Runs worked cases and printed tables, each with its source, and exits 1 if
    any is out.
    """
    run("verify", as_json, "Checking the sums", files or [], out=out)


@app.command(epilog=brief(9, 13))
def bay(
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE", help="Depth files, or one bay folder.")
    ],
    at: Annotated[
        list[str] | None, typer.Option("--at", metavar="LAT,LON", help="Depth here (repeatable).")
    ] = None,
    points: Annotated[
        Path | None, typer.Option("--points", metavar="CSV", help="Depth at all these places.")
    ] = None,
    along: Annotated[
        str | None,
        typer.Option(
            "--along", metavar="LAT,LON,BEARING_DEG,LENGTH_M", help="Depths along a line."
        ),
    ] = None,
    depth: Annotated[
        str | None, typer.Option("--depth", metavar="WAY", help="Depths count down or up.")
    ] = None,
    crs: Annotated[
        str | None, typer.Option("--crs", metavar="NAME", help="Coordinates, like EPSG:25832.")
    ] = None,
    datum: Annotated[
        str | None, typer.Option("--datum", metavar="NAME", help="Chart datum of the depths.")
    ] = None,
    no_data: Annotated[
        float | None, typer.Option("--no-data", metavar="VALUE", help="Stands for no depth.")
    ] = None,
    stay: Annotated[
        Path | None, typer.Option("--stay", metavar="STAY", help="How lines reach the points.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FOLDER", help="Write layers, raster and plan.")
    ] = None,
    palette: Annotated[
        str, typer.Option("--palette", metavar="NAME", help="The plan's: day, night or print.")
    ] = "day",
    soundings: Annotated[
        list[Path] | None,
        typer.Option("--soundings", metavar="FILE", help="Of a run of --stay (repeatable)."),
    ] = None,
    day: RunDay = None,
    as_json: AsJson = False,
) -> None:
    """What do these files know of the bay?

    Depths with their doubt, zones, points ashore, and what had to be left out.
    With --out also as bay.gpkg, bay.geojson, depth.tif, soundings.csv and plan.*.
    """
    places = [place(text, "--at") for text in at or []]
    line = course(along, "--along") if along is not None else None
    told = {"depth": depth, "crs": crs, "datum": datum, "no_data": no_data}
    wanted = {"out": out, "palette": palette, "stay": stay}
    made = {"soundings": soundings or [], "day": day}
    run("bay", as_json, "Reading the bay", files, places, points, line, told, **wanted, **made)


@app.command(epilog=brief(1, 8))
def weather(
    files: Annotated[list[Path], typer.Argument(metavar="FILE", help="Forecast files.")],
    at: Annotated[str, typer.Option("--at", metavar="LAT,LON", help="Where.")],
    as_json: AsJson = False,
) -> None:
    """What do these forecasts say here?

    Wind and gusts at the nearest grid point, member by member, at the file's own
    times; nothing interpolated.
    """
    lat_deg, lon_deg = place(at, "--at")
    run("weather", as_json, "Reading the forecast", files, lat_deg, lon_deg)


for _command, _foot in HANDLING:
    app.command(epilog=_foot)(_command)


def main() -> None:
    """Run the command line and leave with its exit code."""
    gc.set_threshold(_MADE_BEFORE_SEEKING)
    finish(app)


if __name__ == "__main__":
    main()
