"""Updates beside a chart cell: those of its own edition are applied, all others told."""

import importlib.util
import re
import shutil
from pathlib import Path

import pytest

from shorefast.errors import Unreadable
from shorefast.readers import read_chart
from shorefast.readers.depths import Told

FILES = Path(__file__).parents[2] / "files" / "charts"
SPEC = importlib.util.spec_from_file_location("write_cell", FILES / "write_cell.py")
WRITE = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(WRITE)
OLDER = "the chart is older than it could be"


def _cell(folder, edition=1, update=0, light=False):
    """A cell with a rock and, for the first edition's update to take away, a light."""
    cell = WRITE.Writing("ZZ5COVE9.000", update, number=2, edition=edition, changes=False)
    cell.point(30, "UWTROC", 59.5050, 5.2071, VALSOU="0", WATLEV="5")
    if light:
        cell.point(60, "LIGHTS", 59.5085, 5.2101)
    return _written(folder, cell, 0)


def _update(folder, number, edition=1, filed=None, takes_the_light=False):
    """An update that adds a rock."""
    update = WRITE.Writing(f"ZZ5COVE9.{number:03d}", number, edition=edition)
    update.point(70 + number, "UWTROC", 59.5030, 5.2171 + 1e-4 * number, VALSOU="3", WATLEV="3")
    if takes_the_light:
        update.feature(60, "LIGHTS", 1, [], version=2)
    return _written(folder, update, number if filed is None else filed)


def _written(folder, writing, number):
    path = folder / f"ZZ5COVE9.{number:03d}"
    path.write_bytes(writing.whole())
    return path


def _told(path):
    chart = read_chart(path, Told())
    return chart.about["updates_applied"], chart.taken["UWTROC"], chart.depths.notes


def test_updates_of_the_cells_own_edition_are_applied_in_their_order(tmp_path):
    cell = _cell(tmp_path, light=True)
    _update(tmp_path, 1, takes_the_light=True)
    _update(tmp_path, 2)
    assert _told(cell) == (2, 3, ())
    assert not any("LIGHTS" in why for why, _ in read_chart(cell, Told()).depths.left_out)


def test_a_stale_update_beside_a_new_edition_is_left_out_and_told(tmp_path):
    cell = _cell(tmp_path, edition=2)
    for number in (1, 2):
        _update(tmp_path, number, takes_the_light=number == 1)
    said = "left out: of edition 1, the cell is of edition 2"
    assert _told(cell) == (0, 1, (f"ZZ5COVE9.001, ZZ5COVE9.002 {said}",))
    # the first update of the new edition took the place of the old one
    _update(tmp_path, 1, edition=2)
    assert _told(cell) == (1, 2, (f"ZZ5COVE9.002 {said}",))


def test_many_stale_updates_are_told_in_one_sentence(tmp_path):
    cell = _cell(tmp_path, edition=2)
    for number in range(1, 13):
        _update(tmp_path, number)
    assert _told(cell)[2] == (
        "ZZ5COVE9.001 to ZZ5COVE9.012 (12) left out: of edition 1, the cell is of edition 2",
    )


def test_a_cell_issued_anew_takes_only_what_came_after(tmp_path):
    cell = _cell(tmp_path, update=2)
    for number in (1, 2, 3):
        _update(tmp_path, number, takes_the_light=number == 1)
    said = "left out: the cell was issued anew with updates up to 2 in it"
    assert _told(cell) == (3, 2, (f"ZZ5COVE9.001, ZZ5COVE9.002 {said}",))


def test_a_cell_issued_anew_needs_no_older_update_beside_it(tmp_path):
    cell = _cell(tmp_path, update=2)
    _update(tmp_path, 3)
    assert _told(cell) == (3, 2, ())


def test_after_a_missing_update_none_is_applied(tmp_path):
    cell = _cell(tmp_path)
    for number in (1, 3, 4):
        _update(tmp_path, number)
    assert _told(cell) == (1, 2, (
        "ZZ5COVE9.003, ZZ5COVE9.004 left out: update 2 is missing beside it, "
        f"{OLDER} (applied up to 1)",
    ))  # fmt: skip


def test_an_update_of_a_later_edition_says_that_the_cell_is_old(tmp_path):
    cell = _cell(tmp_path)
    _update(tmp_path, 1, edition=2)
    assert _told(cell) == (0, 1, (
        "ZZ5COVE9.001 left out: of edition 2, the cell is of edition 1: "
        f"{OLDER} (applied up to 0)",
    ))  # fmt: skip


def test_an_update_under_another_number_is_left_out(tmp_path):
    cell = _cell(tmp_path)
    _update(tmp_path, 2, filed=1)
    assert _told(cell)[2] == ("ZZ5COVE9.001 left out: by its own record it is update 2",)


def test_a_chart_withdrawn_by_its_office_says_so(tmp_path):
    cell = _cell(tmp_path)
    _update(tmp_path, 1, edition=0)
    said = "ZZ5COVE9.001 withdraws the chart: its office no longer keeps it up"
    assert _told(cell) == (0, 1, (said,))


def test_a_stale_update_may_be_damaged_one_that_counts_may_not(tmp_path):
    cell, update = _cell(tmp_path, edition=2), _update(tmp_path, 1)
    update.write_bytes(update.read_bytes()[:-7])
    assert _told(cell)[0] == 0
    update = _update(tmp_path, 1, edition=2)
    update.write_bytes(update.read_bytes()[:-7])
    with pytest.raises(Unreadable, match=r"^ZZ5COVE9\.001: it is cut short: the record at byte"):
        read_chart(cell, Told())


def test_an_update_of_no_edition_is_refused(tmp_path):
    cell, update = _cell(tmp_path), _update(tmp_path, 1)
    data = update.read_bytes()
    update.write_bytes(data.replace(b"ZZ5COVE9.001\x1f1\x1f1", b"ZZ5COVE9.001\x1fA\x1f1"))
    with pytest.raises(Unreadable) as refused:
        read_chart(cell, Told())
    assert refused.value.sentence == (
        "ZZ5COVE9.001: it does not say of which edition it is, an S-57 chart cell wanted. "
        "Fetch it again."
    )


def test_nothing_is_written_beside_the_chart(tmp_path):
    cell = _cell(tmp_path, update=2)
    _update(tmp_path, 1)
    _update(tmp_path, 3)
    before = {one.name: one.read_bytes() for one in tmp_path.iterdir()}
    read_chart(cell, Told())
    assert {one.name: one.read_bytes() for one in tmp_path.iterdir()} == before
    shutil.rmtree(tmp_path)


def test_what_the_reader_below_warns_of_names_no_folder(tmp_path):
    cell = _cell(tmp_path, update=2)
    _update(tmp_path, 3, takes_the_light=True)
    try:
        notes = read_chart(cell, Told()).depths.notes
    except Unreadable as refused:
        notes = (refused.sentence,)
    assert not any(re.search(r"[/\\]", one) for one in notes)
