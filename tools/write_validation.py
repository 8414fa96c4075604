"""Write docs/validation.md: what `shorefast verify` finds, and what the tests hold.

Run it after a change to the sums, to the cases or to the names of the tests:

    python tools/write_validation.py

With the figures of a new campaign, which are kept in docs/campaign.json:

    python tools/write_validation.py build/campaign.json
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from measures.tests_told import Told, told_in

from shorefast.app.verification import page, run, tasks_of

ROOT = Path(__file__).parent.parent
PAGE, KEPT = ROOT / "docs" / "validation.md", ROOT / "docs" / "campaign.json"
HANDLED = ("arrival", "crosswind-", "chain-")
SHOWN = ("lies", "tables-", "library-", "dense-", "odds-", "choose-", "gust-", *HANDLED)

LIES = """## Drawn lies

`make campaign` draws lies by a seed (`tools/measures/lies.py`): boats of 10 to 20 m, a rode of
chain or of chain and rope, none to four lines ashore, beds that are level, sloped to 35 degrees,
broken or rough on a grid, 5 to 60 m deep, wind to 40 m/s all round. Each goes through every path
that holds for it:

- the exact path and the tables of the batch path, from the same start;
- forces left over at the rest, summed anew with wind and geometry written apart;
- on planes: textbook catenaries and a general root finder, sharing nothing with the solver;
- on level beds without friction: the place of least energy of weight and stretch, and the
  energy's slope (virtual work) against the force at places beside it;
- on any bed, with friction: the rode as a chain of 15 cm bars of least energy;
- where the exact path gives no rest: damped motion integrated in time, which must not settle.

Real beds: random hours of the three bays' stays, tables against every line solved anew. `apart`
counts what ended otherwise or on another branch; `past` the share beyond 5 mm, 0.05 degrees or 5 N.
What falls short is printed as SHORT.

Of 2,000 lies 1,820 come to rest, 3 leave their room and 177 have no answer by the exact path. Of
the 111 of these on planes 110 sheer for ever in time too and one has no balance on the way. The 66
on broken and rough beds are not decided by another program. Tables and exact path end alike in all
of them, on one branch. Near a break of the bed, where the tables miss by more than half of what
they promise, an exact polish follows them: in 2.1 % of the drawn lies, in none of the real beds'
hours. `bare` is the tables alone: past the promise in 0.8 %, mostly chain and rope idle over ground
rough from node to node; 16 mm at worst (lie 79).
Every single failure, 0 to 40 m/s all round, three waters: 150,552 states (`dense-`).
"""

LIBRARY = """## Beside a general mooring library, and where it fails

The library is moorpy, in the same process. On level and falling beds its rodes pull as ours, and
its whole boats lie where ours do; lines that float are left out, for it has no water surface, and
its systems have no friction at the bed. On rising beds it fails in two ways. Once its
search takes the line for lifted it forgets the bed, and the chain leaves the shank flatter than the
slope, under it. The pull it then tells is too large, by up to three times. A third program decided
each of those: the chain of bars of least energy pulls as ours in every one
(`tests/reference/test_beside_a_mooring_library.py`; in the shipped cases RP07 and RP08 a chain of
400 bars hauled out from slack did). And a length that feels no tension on a slope it shortens as if
it were pressed (RP06): its pull is then some thousandths small, and again the bars pull as ours.
"""

ODDS = """## Are the odds reliable?

`make campaign` draws nights for a stay of each bay (its wind half to three times, another proof),
asks `judge --odds` for the odds of every hour, and then draws truths from the stated doubts: one
member, windage, gusts, direction, bed, place of the anchor, ropes and ground at a time, put into
boat, bay, forecast and lie and judged whole, with a judgement's own tables
(`tools/measures/odds_run.py`). Nothing of the odds' own sums is in it but the sizes of the doubts
and what a proof is worth in another direction. A bin is one tenth of the odds told; the error is
taken over nights, whose hours share a ground. Of ten true bins some three lie beyond one error,
and one beyond two in every second table.
"""

CHOICE = """## Beside a grid of lies

A coarse grid of lies over each bay, tried whole, against what `choose` takes: by how much the
grid's best is better (`tools/measures/choose_run.py`).
"""

GUSTS = """## Her motion in gusts beside others

`make campaign` runs drawn lies beside a general integrator on equations written apart, and real
records of wind beside drawn ones (`tools/measures/gust_run.py`). The closed forms are among the
laws below; a general library of moving lines is under the other programs.
"""

ARRIVALS = """## Arrivals, and the chain's lead in their proofs

`make campaign` brings her in a hundred times in each bay by the calls alone, with a usual crew in
the hour's gusts, on seeds the stated limits were not drawn with (`tools/measures/arrivals.py`).
Crew and time model are those the limits come from: what both leave out is not tried. Winds above
and below the stated crosswind meet the same crews, and statics by a root finder
(`tools/measures/crosswinds.py`). In the proofs of whole arrivals, over the bed the soundings were
cut from and with chain, water and links a little off, the lead is read and asked for its pull
(`tools/measures/chain_proofs.py`); the pull there is by the rode's own statics, in
`tools/measures/chain_readings.py` by a chain of bars.
"""

FORM = """## The form of a case file

JSON: `{"format": "yacht-statics-vectors-1", "cases": [...]}`; every case has `id` and `kind`.
SI; a name ending in `_deg` is in degrees. z up, 0 at the datum; E east, N north. `psi_rad`: where
the bow points, from east, anticlockwise; `heading_deg` is the same as a compass heading. On board
`fp`: forward, to port. Moments `N_Nm` anticlockwise. The chain keeps one weight above and below
water.

- `rode`: `segments_from_anchor` (`length_m`, `w_N_per_m`, `EA_N`), `friction`, `bed_r_z_m` (how far
  from the anchor and level, end pieces go on), `bow_z_m`, and `given`: `distance_m` or `H_bow_N`.
- `shore`: `length_m`, `w_N_per_m`, `EA_N`, `cleat_height_m`, `shore_height_m`, and `given`:
  `distance_m`.
- `boat`: `water_level_m`; `lines`, each `name`, `kind`, `body_point_fp_m`, `height_above_water_m`,
  `fixed_EN_m`, `state` (only `set` counts), a shore line with `shore_z_m` and the three numbers
  above, a rode with `bed` (`z_at_anchor_m`, `grad_EN`), `friction` and segments; `load` (`fixed`:
  `FE_N`, `FN_N`, `N_Nm`; or `wind`: `speed_m_s`, `from_deg`, `rho`, `A_front_m2`, `A_side_m2`,
  `C_front`, `C_side`, `lever0_m`, `lever1_m`); `start_q` (E, N, psi); `domain` (`E_m`, `N_m`).
- `expected` and `tol` may be missing: the case is then simply computed.

A file of printed numbers is TOML, `[[check]]` with `case`, `field`, `call`, `arguments`, `unit`,
`expected`, `tolerance`, `source`, `reason`; the shipped one is the example.
"""


def whole_page() -> str:
    """The page as it should stand."""
    tasks = tasks_of(())
    rows, _ = run(tasks)
    figures = json.loads(KEPT.read_text(encoding="utf-8"))
    parts = [
        page(tasks, rows),
        LIES,
        _figures(figures, ("lies", "tables-", "dense-")),
        LIBRARY,
        _figures(figures, ("library-",)),
        ODDS,
        _bins(figures),
        CHOICE,
        _figures(figures, ("choose-",)),
        GUSTS,
        _figures(figures, ("gust-",)),
        ARRIVALS,
        _figures(figures, HANDLED),
        _laws(),
        _others("## Cross-checks by other programs", "reference", ""),
        _others("## Printed numbers held by tests", "published", ""),
        FORM,
    ]
    return "\n".join(parts)


def _figures(figures: list[dict[str, Any]], begins: tuple[str, ...]) -> str:
    if not any(figure["name"].startswith(begins) for figure in figures):
        return "Not run for this page yet.\n"
    lines = ["| figure | found | goal | |", "|---|---|---|---|"]
    word = {True: "met", False: "SHORT", None: "not measured"}
    for figure in figures:
        if figure["name"].startswith(begins):
            value = "-" if figure["value"] is None else f"{figure['value']:.4g} {figure['unit']}"
            said = word[figure["met"]] if figure["goal"] else "told only"
            lines.append(f"| `{figure['name']}` | {value} | {figure['goal']} | {said} |")
    return "\n".join(lines) + "\n"


def _bins(figures: list[dict[str, Any]]) -> str:
    """The reliability table: told, came and error by bin."""
    value = {one["name"]: one["value"] for one in figures}
    lines = [
        "| odds told | mean told | came | error | off by, in errors |",
        "|---|---|---|---|---|",
    ]
    for number in range(10):
        told, came = (value.get(f"odds-bin-{number}-{what}") for what in ("told", "came"))
        error = value.get(f"odds-bin-{number}-error")
        row = f"| {number / 10:.1f} to {(number + 1) / 10:.1f} "
        if told is None or came is None or error is None:
            lines.append(f"{row}| - | - | - | no hour |")
            continue
        off = (came - told) / error
        said = f"{off:+.1f}" + ("" if abs(off) <= 2.0 else " OUT")
        lines.append(f"{row}| {told:.3f} | {came:.3f} | {error:.3f} | {said} |")
    return "\n".join(lines) + "\n"


def _laws() -> str:
    told = told_in(ROOT / "tests" / "laws")
    drawn = sum(law.drawn for law in told)
    head = (
        f"## Laws\n\n{len(told)} laws, {drawn} of them on values drawn at random (hypothesis). A "
        "sentence is the name of its test.\n"
    )
    return "\n".join([head, *_table(told)]) + "\n"


def _others(head: str, folder: str, said: str) -> str:
    return "\n".join([f"{head}\n{said}", *_table(told_in(ROOT / "tests" / folder))]) + "\n"


def _table(told: list[Told]) -> list[str]:
    lines = ["| what is held | said beside it | test |", "|---|---|---|"]
    return lines + [f"| {one.sentence} | {one.beside} | `{one.where}` |" for one in told]


def main() -> None:
    if len(sys.argv) > 1:
        given = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8"))
        kept = {one["name"]: one for one in json.loads(KEPT.read_text(encoding="utf-8"))}
        kept |= {one["name"]: one for one in given if one["name"].startswith(SHOWN)}
        KEPT.write_text(json.dumps([*kept.values()], indent=1) + "\n", encoding="utf-8")
    PAGE.write_text(whole_page(), encoding="utf-8")


if __name__ == "__main__":
    main()
