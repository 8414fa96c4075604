"""A wounded file is read or refused; nothing else comes out of a reader."""

from measures.mutated import tried


def test_eight_hundred_wounded_files_are_read_or_refused(tmp_path):
    counts = tried(800, tmp_path, seed=3)
    assert set(counts) <= {"read", "said no"}, counts
    assert counts["said no"] > 200
