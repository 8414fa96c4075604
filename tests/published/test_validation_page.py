"""docs/validation.md is what its writer would write now."""

from __future__ import annotations

import re

import pytest
from write_validation import KEPT, PAGE, whole_page

from shorefast.app.answers.verify import answer_verify
from shorefast.errors import BadInput


def test_the_page_says_what_is_found_now():
    # written anew by tools/write_validation.py
    assert PAGE.read_text(encoding="utf-8") == whole_page()


def test_the_page_lists_printed_numbers_laws_and_other_programs():
    text = PAGE.read_text(encoding="utf-8")
    printed = text.split("## published.toml")[1].split("\n## ")[0]
    # the project asks for 120 printed numbers or closed forms, and 25 laws
    assert len(re.findall(r"\| in \|$", printed, re.M)) >= 120
    assert "| OUT |" not in text
    laws = text.split("## Laws")[1].split("\n## ")[0]
    assert int(re.search(r"(\d+) of them on values drawn", laws)[1]) >= 25
    assert "## Cross-checks by other programs" in text
    assert "under it" in text.split("where it fails")[1]


def test_the_campaign_kept_has_two_thousand_lies_and_ten_thousand_states():
    text = KEPT.read_text(encoding="utf-8")
    for name in ("lies-residual-n", "lies-against-energy-m", "lies-against-root-m",
                 "tables-against-exact-m", "tables-against-exact-deg", "tables-against-exact-n",
                 "library-boats-m"):  # fmt: skip
        assert f'"{name}"' in text


def test_verify_writes_its_tables_to_a_file(tmp_path):
    answer = answer_verify(out=tmp_path / "page.md")
    text = (tmp_path / "page.md").read_text(encoding="utf-8")
    assert text in PAGE.read_text(encoding="utf-8")
    assert answer.text.splitlines()[-1] == f"Written: {tmp_path / 'page.md'}"


def test_a_page_that_cannot_be_written_is_told_at_once(tmp_path):
    with pytest.raises(BadInput) as trouble:
        answer_verify(out=tmp_path)
    assert trouble.value.sentence == (
        f"--out {tmp_path}: it is a folder, a file wanted. Name a file in it."
    )
    with pytest.raises(BadInput) as trouble:
        answer_verify(out=tmp_path / "no" / "page.md")
    assert trouble.value.sentence == (
        f"--out {tmp_path / 'no' / 'page.md'}: there is no folder {tmp_path / 'no'}. "
        "Make it, or name another."
    )
