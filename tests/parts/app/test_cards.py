"""Cards from a stay file: what can be told is told, what cannot spoils nothing else."""

import re
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pypdfium2
import pytest

import shorefast
from shorefast.app.answers.cards import answer_cards
from shorefast.errors import BadInput

DEMO = Path(shorefast.__file__).parent / "demo"
MADE = datetime(2026, 6, 20, 8, 0, tzinfo=UTC)


def changed(tmp_path, scenario, **changes):
    """The demo's stay with some of its texts changed, cut to one evening."""
    folder = tmp_path / scenario
    shutil.copytree(DEMO / scenario, folder)
    for name, pairs in changes.items():
        path = folder / f"{name}.toml"
        text = path.read_text(encoding="utf-8")
        for old, new in pairs:
            assert re.search(old, text, re.DOTALL), old
            text = re.sub(old, new, text, flags=re.DOTALL)
        path.write_text(text, encoding="utf-8")
    return folder / "stay.toml"


SHORT = ("2026-06-25T12:00:00Z", "2026-06-24T22:30:00Z")


def words_in(path):
    """The words of a print without the gaps, which readers of print guess."""
    document = pypdfium2.PdfDocument(path)
    said = "".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return "".join(said.split())


def test_a_bare_stay_still_has_its_cards(tmp_path):
    # no people, no engine, no tide file: only what is known stands on them
    stay = changed(
        tmp_path,
        "grey_notch",
        stay=[SHORT, (r"\[\[person\]\].*", ""), (r"\[proof\].*?\n\n", "")],
        boat=[(r"\[engine\].*?\n\n(?=\[)", "")],
    )
    answer = answer_cards(stay, tmp_path / "out", at_utc=MADE)
    findings = [one.said for one in answer.basis.findings if one.where.startswith("Cards")]
    assert findings and all(said.startswith("not worked out: ") for said in findings)
    assert "names" in answer.keys["to_fill_in"]
    said = words_in(tmp_path / "out" / "cards.pdf")
    assert "Notworkedout.Agreeonitaloudbeforeyoubegin" in said


def test_the_same_stay_makes_the_same_files_to_the_bit(tmp_path):
    stay = changed(tmp_path, "grey_notch", stay=[SHORT])
    for name in ("one", "two"):
        answer_cards(stay, tmp_path / name, at_utc=MADE)
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()


def test_the_text_says_which_files_and_what_to_do_with_them(tmp_path):
    stay = changed(tmp_path, "grey_notch", stay=[SHORT])
    answer = answer_cards(stay, tmp_path / "out", at_utc=MADE)
    rows = answer.text.splitlines()
    assert rows[0] == (
        "The cards of Salt Thistle at Grey Notch, Torvane Inlet: four faces a page; cut along the"
        " dashes, fold along the dots."
    )
    assert any(row.split() == ["Guests", "2", "faces:", "Ottilie,", "Pelle"] for row in rows)
    assert any(row.startswith("To be written in by hand: call sign, MMSI,") for row in rows)
    assert [path.name for path in answer.written] == [
        "cards.pdf", "night-card.pdf", "bay.pdf", "watch.ics",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        ({"paper": "a5"}, "Paper: 'a5', one of a4, a6 wanted. Take one of these."),
        ({"language": "nl"}, "Language: 'nl', one of en, fr, es wanted. Take one of these."),
    ],
)
def test_what_is_not_there_is_told_before_the_long_sums(tmp_path, wanted, message):
    with pytest.raises(BadInput) as said:
        answer_cards(tmp_path / "nowhere.toml", tmp_path, **wanted)
    assert str(said.value) == message


def test_a_lie_still_to_be_chosen_has_no_cards(tmp_path):
    stay = changed(tmp_path, "grey_notch", stay=[(r"\[lie\].*", "")])
    with pytest.raises(BadInput) as said:
        answer_cards(stay, tmp_path / "out")
    assert str(said.value) == (
        "Cards: a lie still to be chosen, cards tell of one lie. Give the lie in the stay file."
    )


def test_a_call_sign_and_an_mmsi_are_ready_to_be_read_out(tmp_path):
    stay = changed(
        tmp_path,
        "grey_notch",
        stay=[SHORT],
        boat=[
            (
                'name = "Salt Thistle"',
                'name = "Salt Thistle"\ncall_sign = "ZQST7"\nmmsi = "999000123"',
            )
        ],
    )
    answer = answer_cards(stay, tmp_path / "out", at_utc=MADE)
    said = words_in(tmp_path / "out" / "night-card.pdf")
    assert "CallsignZQST7.MMSI999000123." in said
    assert "ZuluQuebecSierraTango7" in said
    assert "call sign" not in answer.keys["to_fill_in"]
