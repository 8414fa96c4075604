"""The sheet a crew is briefed from: sentence first, kilograms, local times, nothing invented."""

import math
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
import shapely
from pypdfium2 import raw

from shorefast.basis import Basis
from shorefast.briefing import sheet_pdf, sheet_svg
from shorefast.briefing.sheet import front_page
from shorefast.drawing import make_scene, of_members, proof_words, strip_text
from shorefast.drawing.hull import half_beam_share, outline_m
from shorefast.drawing.page import Box
from shorefast.drawing.plan import _poses, _view
from shorefast.drawing.stands import worst_edge
from shorefast.errors import BadInput
from shorefast.stay import LieLine, NeedAndProof, WhereToLetGo
from shorefast.stay.patch_shape import Ellipse

SVG = "{http://www.w3.org/2000/svg}"


def _words(content):
    return [text for _, text in front_page(content).labels]


def _read(page):
    """The words of a printed page, without the gaps, which readers of print guess."""
    return "".join(page.get_textpage().get_text_range().split())


def test_the_sheet_is_sound_xml_with_a_title_and_a_description(made_up):
    tree = ElementTree.fromstring(sheet_svg(made_up()))
    title, said = tree.find(f"{SVG}title"), tree.find(f"{SVG}desc")
    assert title.text == "Grey Notch, Torvane Inlet: Lie here until 03:20, then leave."
    assert said.text.startswith("Worst hour 06:00: the stern line to rock, sling carries 690 kg")
    assert {"plan", "profile", "stands", "without", "strip", "head", "foot"} <= {
        group.get("data-part") for group in tree.iter(f"{SVG}g")
    }


def test_names_with_marks_of_their_own_do_no_harm(made_up):
    name = '<b>"Tom & Jerry\x07</b>'
    tree = ElementTree.fromstring(sheet_svg(made_up(bay_name=name), fonts_inside=False))
    assert '<b>"Tom & Jerry</b>' in [text.text for text in tree.iter(f"{SVG}text")]


def test_forces_are_said_in_kilograms_and_winds_in_knots(made_up):
    words = " ".join(_words(made_up()))
    assert re.search(r"24 m · \d+ kg", words)
    assert "wind in knots" in words
    assert not re.search(r"\d kN\b", words)


def test_nothing_on_the_sheet_promises(made_up):
    words = " ".join(_words(made_up())).lower()
    assert not re.search(r"\bsafe\b|\ballowed\b", words)


def test_times_are_those_of_the_place(made_up):
    words = " ".join(_words(made_up()))
    # 19:30 UTC is 17:30 two hours west of Greenwich.
    assert "Wed 24 Jun 17:30 until Thu 25 Jun 10:00 (UTC-2)" in words


def test_what_is_unknown_is_said_to_be(made_up):
    words = _words(made_up(unknown=True, land=False))
    assert "unknown" in words
    assert "Short dashes: not sounded." in words
    assert "No rest found: where she lies is unknown." in _words(made_up(rest=False))


def test_a_loss_nobody_worked_out_is_not_made_up(made_up):
    assert "Not worked out." in _words(made_up(without=0))


def test_the_paper_sheet_is_a4_across_with_its_fonts_and_no_pictures(made_up):
    printed = pypdfium2.PdfDocument(sheet_pdf(made_up()))
    # ISO 216: A4 is 210 by 297 mm, 595.28 by 841.89 points.
    assert printed[0].get_size() == pytest.approx((841.89, 595.28), abs=0.02)
    assert len(printed) >= 2
    kinds = {item.type for page in printed for item in page.get_objects(max_depth=6)}
    assert raw.FPDF_PAGEOBJ_IMAGE not in kinds
    assert raw.FPDF_PAGEOBJ_TEXT in kinds
    assert "Liehereuntil03:20,thenleave." in _read(printed[0])


def test_the_same_answer_prints_the_same_bytes(made_up):
    assert sheet_pdf(made_up()) == sheet_pdf(made_up())


def test_the_back_carries_every_caution_and_what_it_rests_on(made_up):
    content = made_up(without=5)
    printed = pypdfium2.PdfDocument(sheet_pdf(content))
    said = "".join(map(_read, printed))
    for words in content.cautions:
        assert "".join(words.split()) in said
    assert "displacement:11500kg(skipper)" in said
    assert "forecast:2hoursleftout" in said


def test_a_lie_still_to_be_chosen_has_no_sheet(made_up):
    content = made_up()
    with pytest.raises(BadInput) as said:
        sheet_svg(replace(content, stay=replace(content.stay, lie=None)))
    assert str(said.value) == (
        "Sheet: a lie still to be chosen, a sheet shows one lie. Give the lie in the stay file."
    )


@pytest.mark.parametrize(("cut", "row"), [(False, "patch 8.0 m along"), (True, "patch at least")])
def test_a_patch_looked_for_no_farther_is_at_least_so_large(made_up, cut, row):
    content = made_up()
    at = content.stay.lie.let_go_east_m, content.stay.lie.let_go_north_m
    let_go = WhereToLetGo(
        patch=shapely.Point(at).buffer(5.0),
        area_m2=78.0,
        error_m=3.0,
        hit_share=0.9,
        ellipse=Ellipse(*at, 8.0, 6.0, 0.0),
        aim_m=at,
        aim_share=0.9,
        sides=(),
        until_utc=None,
        cut=cut,
        tried=9,
        basis=Basis(),
    )
    found = [words for words in _words(replace(content, let_go=let_go)) if "patch" in words]
    assert found and all(words.startswith(row) for words in found)


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (
            LieLine("line 1", "port quarter", "oak", 20.0),
            "Lie: point 'oak', points known: birch, 30 cm, rock, sling, ring 0, ring 1. "
            "Correct the name.",
        ),
        (
            LieLine("line 1", "mast", "birch, 30 cm", 20.0),
            "Lie: cleat 'mast', cleats aboard: port quarter, starboard quarter. Correct the name.",
        ),
    ],
)
def test_a_line_to_nowhere_is_told_of(made_up, line, message):
    content = made_up()
    lie = replace(content.stay.lie, lines=(line,))
    with pytest.raises(BadInput) as said:
        sheet_svg(replace(content, stay=replace(content.stay, lie=lie)))
    assert str(said.value) == message


def test_the_bow_points_down_the_page_and_the_shore_is_above(made_up):
    content = made_up()
    scene = make_scene(content.stay, content.judgement)
    view = _view(scene, Box(0.0, 0.0, 400.0, 300.0), _poses(scene))
    assert view.bearing_on_page(scene.lie.heading_rad) == pytest.approx((0.0, 1.0), abs=1e-12)
    anchor = view.one(scene.lie.let_go_east_m, scene.lie.let_go_north_m)
    ashore = [view.one(line.point.east_m, line.point.north_m) for line in scene.lines]
    assert max(y for _, y in ashore) < anchor[1]
    # heading east and seen from above, north is to the right of the page
    assert view.bearing_on_page(0.0) == pytest.approx((1.0, 0.0), abs=1e-12)


def test_a_place_on_the_page_is_found_again_in_the_bay(made_up):
    content = made_up()
    scene = make_scene(content.stay, content.judgement)
    view = _view(scene, Box(0.0, 0.0, 400.0, 300.0), _poses(scene))
    east, north = view.from_page(view.to_page(np.array([12.0, -3.0]), np.array([4.0, 50.0])))
    assert east == pytest.approx([12.0, -3.0], abs=1e-9)
    assert north == pytest.approx([4.0, 50.0], abs=1e-9)


def test_her_outline_keeps_to_her_length_and_beam(made_up):
    hull = made_up().stay.boat.hull
    points = outline_m(hull, 40)
    assert np.ptp(points[:, 0]) == pytest.approx(hull.length_m)
    # stations stand close, not on the widest place
    assert np.ptp(points[:, 1]) == pytest.approx(hull.beam_m, rel=0.01)
    assert points[:, 1].sum() == pytest.approx(0.0, abs=1e-9)
    assert half_beam_share(np.array([1.0]))[0] == 0.0


def test_a_share_of_members_is_counted_by_rank_and_unknown_stays_unknown():
    values = np.arange(1.0, 21.0)[:, None].repeat(2, axis=1)
    values[:, 1] = math.nan
    found = of_members(values, 0.95)
    assert found[0] == 19.0
    assert math.isnan(found[1])


def test_the_edge_is_that_of_the_worst_water_level(made_up):
    content = made_up()
    edge = worst_edge(content.stands, content.judgement.first_to_give)
    assert edge.open.any()
    shut = ~edge.open
    least = np.nanmin(content.stands.limit_mps[:, shut], axis=0)
    # 1 knot is 1852 m an hour (BIPM, SI brochure, 8th ed., table 8).
    assert edge.limit_kn[shut] == pytest.approx(least * 3600 / 1852)
    assert edge.heavy.any()


def test_the_stay_is_told_on_a_terminal_hour_by_hour(made_up):
    content = made_up(unknown=True)
    rows = strip_text(content.judgement, "Etc/GMT+2").splitlines()
    assert rows[0].startswith("hour 17 18 19 20 21 22 23 00 01")
    assert [row.split()[0] for row in rows] == [
        "hour", "from", "wind", "gust", "use", "past", "greatest",
    ]  # fmt: skip
    assert "!" in rows[5]
    assert "?" in rows[4]
    assert max(map(len, rows)) <= 80


def test_the_sheet_says_which_pull_is_at_the_shank_and_which_the_winds_are_like():
    proof = NeedAndProof(
        980.7, 0.0, None, 3825.0, 3040.0, 4609.0, 0.0, 4511.0, 22.6, 13.4, Basis()
    )  # fmt: skip
    assert proof_words(proof) == (
        "The anchor needs 100 kg; the engine proves 390 kg at the shank: its 460 kg at the roller"
        " are 44 kn of wind ahead or 26 kn abeam."
    )
