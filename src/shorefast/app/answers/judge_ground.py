"""``judge --ground-swept``: the bed her chain scours, in words, numbers and a picture."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from shorefast.app.answers.told import Told
from shorefast.app.out_folder import ready
from shorefast.app.progress import Progress
from shorefast.stay import GroundSwept, Judged, Scoured, Stay, ground_swept
from shorefast.wording import CAUTIONS_SHORT, ground_rows, ground_words, lying_words

_CAUTIONS = tuple(CAUTIONS_SHORT[number - 1] for number in (1, 13))


def _by_member(one: Scoured | None) -> Any:
    return None if one is None else one.area_m2


def ground_keys(found: GroundSwept) -> dict[str, Any]:
    """The JSON under ``ground_swept``; areas (member, kind)."""
    return {
        "sentence": ground_words(found),
        "member": found.member,
        "kinds": list(found.kinds),
        "lying_m2": _by_member(found.lying),
        "swinging_m2": _by_member(found.swinging),
        "chain_m": found.chain_m,
        "aboard_m": found.aboard_m,
        "aground_share": found.aground_share,
        "lost": found.lost,
        "lost_swinging": found.lost_swinging,
    }


def ground_text(found: GroundSwept) -> str:
    """The sentences, and the areas by kind of bottom."""
    rows = [("", f"l{lying_words(found)[1:]}", "swinging free"), *ground_rows(found)]
    wide = [max(len(row[column]) for row in rows) for column in range(3)]
    table = [f"  {row[0]:{wide[0]}}  {row[1]:>{wide[1]}}  {row[2]:>{wide[2]}}" for row in rows]
    lost = [f"  No rest in {found.lost} states: they sweep nothing here."] if found.lost else []
    many = " (mean of the members, least to most)" if found.member.size > 1 else ""
    return "\n".join([ground_words(found), f"Bed swept, by kind of bottom{many}:", *table, *lost])


def ground_told(
    stay: Stay, judged: Judged, asked: bool | str | Path, progress: Progress | None = None
) -> Told:
    """The ground her chain sweeps; its picture written where a folder is named.

    Raises
    ------
    BadInput
        Where the folder is a file.
    """
    out = None if isinstance(asked, bool) else Path(asked)
    if out is not None:
        ready(out)
    found = ground_swept(stay, judged)
    written = () if out is None else _drawn(out, stay, judged, found)
    return Told({"ground_swept": ground_keys(found)}, ground_text(found), found.basis, written)


def _drawn(out: Path, stay: Stay, judged: Judged, found: GroundSwept) -> tuple[Path, ...]:
    """Write ``ground_swept.svg`` and ``ground_swept.pdf``; no time of writing in any."""
    from shorefast.app.answers.bay_export_plan import set_page
    from shorefast.drawing import ground_swept_page

    said = ground_words(found)
    page = ground_swept_page(stay, judged.judgement, found, (said, *_CAUTIONS))
    title = f"{stay.bay.name}: ground swept"
    paths = (out / "ground_swept.svg", out / "ground_swept.pdf")
    drawn = page.svg("day", title, said, fonts_inside=True)
    paths[0].write_text(drawn, encoding="utf-8", newline="\n")
    plain = page.svg("day", title, said).encode()
    paths[1].write_bytes(set_page(page, plain, (title, said), "pdf"))
    return paths
