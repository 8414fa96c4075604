"""Cut the shipped faces to the letters a sheet uses and write them as WOFF beside themselves.

Run once after a face changes: ``python tools/write_web_fonts.py``. Needs fontTools.
"""

from __future__ import annotations

from pathlib import Path

from fontTools import subset

FONTS = Path(__file__).parents[1] / "src" / "shorefast" / "drawing" / "fonts"
LETTERS = "U+0020-017F,U+0218-021B,U+0384-03CE,U+0400-045F,U+2010-2026,U+2030-2033,U+2190-2193"


def main() -> None:
    """Write one WOFF for every face the sheets use."""
    for source in sorted(FONTS.glob("*.ttf")):
        subset.main(
            [
                str(source),
                f"--unicodes={LETTERS}",
                "--flavor=woff",
                "--no-hinting",
                "--desubroutinize",
                "--layout-features=kern,liga,mark,mkmk",
                "--no-recalc-timestamp",
                f"--output-file={source.with_suffix('.woff')}",
            ]
        )


if __name__ == "__main__":
    main()
