"""Write docs/validation.md from what `shorefast verify` finds.

Run it after a change to the sums or to the cases:

    python tools/write_validation.py
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from typing import Any

from shorefast.app.answers.verify import answer_verify
from shorefast.app.verification import shipped_texts
from shorefast.app.verification.published import read_checks

PAGE = Path(__file__).parent.parent / "docs" / "validation.md"

HEAD = """# How we know the sums are right

`shorefast verify` runs worked cases and printed numbers through the same functions that judge a
stay, and ends with 1 if any is out. This page is written by `tools/write_validation.py` from what
it found; run `shorefast verify` to see every row, with its error.

- `rode.json`, `boat.json`: rodes on straight and broken beds, shore lines, whole boats. Their
  expected values were computed by programs written for the purpose, independently of this project;
  `method` in each case says by which. Each field has its own tolerance, made from the case's own
  sensitivity.
- `published.toml`: printed numbers and closed forms. Each names where it is printed (read, worked
  by hand from a formula that was read, or from memory) and why its tolerance is what it is.
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


def main() -> None:
    rows = answer_verify().keys["rows"]
    parts = [HEAD, _counts(rows)]
    parts += [_cases(name, list(found)) for name, found in groupby(rows, key=_file)]
    PAGE.write_text("\n".join([*parts, FORM]), encoding="utf-8")


def _file(row: dict[str, Any]) -> str:
    return str(row["file"])


def _counts(rows: list[dict[str, Any]]) -> str:
    lines = ["| file | checked | out of tolerance | no tolerance |", "|---|---|---|---|"]
    for name, found in groupby(rows, key=_file):
        passed = [row["pass"] for row in found]
        lines.append(
            f"| `{name}` | {len(passed) - passed.count(None)} | {passed.count(False)} "
            f"| {passed.count(None)} |"
        )
    return "\n".join(lines) + "\n"


def _cases(name: str, rows: list[dict[str, Any]]) -> str:
    if name.endswith(".toml"):
        reasons = [check.reason for check in read_checks(dict(shipped_texts())[name], name)]
        return "\n".join([f"## {name}\n", *_printed(rows, reasons), ""])
    head = [f"## {name}\n", "| case | fields checked | largest share of a tolerance | out |"]
    return "\n".join([*head, "|---|---|---|---|", *_worked(rows), ""])


def _worked(rows: list[dict[str, Any]]) -> Iterator[str]:
    for case, found in groupby(rows, key=lambda row: str(row["case"])):
        kept = [row for row in found if row["pass"] is not None]
        share = max((_share(row) for row in kept), default=0.0)
        out = ", ".join(str(row["field"]) for row in kept if not row["pass"]) or "none"
        yield f"| {case} | {len(kept)} | {_said(share)} | {out} |"


def _share(row: dict[str, Any]) -> float:
    """Error over tolerance; words and unknowns have none."""
    numbers = (row["got"], row["expected"])
    if not row["tolerance"] or any(isinstance(n, bool | str | None) for n in numbers):
        return 0.0
    gap = abs(row["got"] - row["expected"])
    if str(row["field"]).endswith("heading_deg"):
        gap = abs((gap + 180.0) % 360.0 - 180.0)
    return float(gap / row["tolerance"])


def _said(share: float) -> str:
    """To a power of ten: the last digits differ between processors."""
    for bound in (1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1.0):
        if share < bound:
            return f"under {bound:g}"
    return "over 1"


def _printed(rows: list[dict[str, Any]], reasons: list[str]) -> Iterator[str]:
    yield "| case | field | printed | tolerance | why so much | source | |"
    yield "|---|---|---|---|---|---|---|"
    for row, reason in zip(rows, reasons, strict=True):
        mark = "in" if row["pass"] else "OUT"
        yield (
            f"| {row['case']} | {row['field']} | {row['expected']:.10g} | {row['tolerance']:.3g} "
            f"| {reason} | {row['source']} | {mark} |"
        )


if __name__ == "__main__":
    main()
