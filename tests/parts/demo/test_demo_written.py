"""The shipped demonstration is what tools/write_demo.py writes, and small."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import netCDF4
import numpy as np
import pytest

ROOT = Path(__file__).parents[3]
SHIPPED = ROOT / "src" / "shorefast" / "demo"
SCENARIOS = ("grey_notch", "stone_spur", "tres_sombras")
_NUMBER = re.compile(r"-?\d+\.\d+")


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration written afresh."""
    out = tmp_path_factory.mktemp("demo")
    script = str(ROOT / "tools" / "write_demo.py")
    subprocess.run([sys.executable, script, str(out)], check=True, timeout=120)
    return out


def _names(folder: Path) -> list[str]:
    found = (path.relative_to(folder) for path in folder.rglob("*") if path.is_file())
    return sorted(str(path) for path in found if "__pycache__" not in path.parts)


def test_no_file_of_the_demonstration_is_missing_or_left_over(written: Path) -> None:
    assert _names(written) == _names(SHIPPED)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_every_text_of_a_bay_is_what_the_script_writes(written: Path, scenario: str) -> None:
    for name in _names(SHIPPED / scenario):
        if name.endswith(".nc"):
            continue
        new = (written / scenario / name).read_text(encoding="utf-8")
        old = (SHIPPED / scenario / name).read_text(encoding="utf-8")
        assert _NUMBER.sub("", new) == _NUMBER.sub("", old), name
        pairs = np.array([_NUMBER.findall(new), _NUMBER.findall(old)], float)
        # Another mathematical library may round a last digit the other way.
        assert np.all(np.abs(pairs[0] - pairs[1]) <= 0.011), name


def test_the_fjords_forecast_is_what_the_script_writes(written: Path) -> None:
    place = Path("grey_notch") / "forecast.nc"
    with netCDF4.Dataset(written / place) as new, netCDF4.Dataset(SHIPPED / place) as old:
        assert list(new.variables) == list(old.variables)
        for name, field in new.variables.items():
            assert field.ncattrs() == old[name].ncattrs()
            # Single precision keeps seven digits of some 20 m/s.
            np.testing.assert_allclose(field[:], old[name][:], atol=1e-5)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_a_bay_fits_into_four_hundred_kilobytes(scenario: str) -> None:
    sizes = [path.stat().st_size for path in (SHIPPED / scenario).rglob("*") if path.is_file()]
    assert sum(sizes) < 400_000


def test_no_file_of_the_demonstration_names_a_machine_or_a_path() -> None:
    for name in _names(SHIPPED):
        if not name.endswith(".nc"):
            text = (SHIPPED / name).read_text(encoding="utf-8")
            assert "/home" not in text
            assert "/work" not in text
            assert "http" not in text
