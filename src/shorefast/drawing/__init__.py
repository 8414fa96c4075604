"""One drawing for page, print and terminal: panels, palettes, labels that never collide."""

from shorefast.drawing.able import able_page
from shorefast.drawing.chart import CONTOURS_M, chart_page
from shorefast.drawing.ground_swept import ground_swept_page
from shorefast.drawing.lettering import (
    ASCENT,
    DESCENT,
    FACES,
    LEAST_PT,
    first_rows,
    fitted,
    rows_of,
    shortened,
    whole_sentences,
    width_pt,
)
from shorefast.drawing.page import Box, Page, Style
from shorefast.drawing.palettes import PALETTES, Palette, PaletteName
from shorefast.drawing.plan import draw_plan
from shorefast.drawing.practice_chars import shown_of
from shorefast.drawing.practice_screen import LEAST_COLUMNS, LEAST_ROWS, Screen, screen_rows
from shorefast.drawing.practice_track import track_page
from shorefast.drawing.profile import draw_profile
from shorefast.drawing.scene import Scene, letter_of, make_scene, most, of_members, short_name
from shorefast.drawing.signals import SIGNALS, Seen, draw_signal, signal_width_pt
from shorefast.drawing.stands import draw_stands
from shorefast.drawing.strip import Beside, draw_strip, strip_words
from shorefast.drawing.terminal import strip_text
from shorefast.drawing.way import WayMarks
from shorefast.drawing.without import draw_without, proof_words, without_words

__all__ = [
    "ASCENT",
    "CONTOURS_M",
    "DESCENT",
    "FACES",
    "LEAST_COLUMNS",
    "LEAST_PT",
    "LEAST_ROWS",
    "PALETTES",
    "SIGNALS",
    "Beside",
    "Box",
    "Page",
    "Palette",
    "PaletteName",
    "Scene",
    "Screen",
    "Seen",
    "Style",
    "WayMarks",
    "able_page",
    "chart_page",
    "draw_plan",
    "draw_profile",
    "draw_signal",
    "draw_stands",
    "draw_strip",
    "draw_without",
    "first_rows",
    "fitted",
    "ground_swept_page",
    "letter_of",
    "make_scene",
    "most",
    "of_members",
    "proof_words",
    "rows_of",
    "screen_rows",
    "short_name",
    "shortened",
    "shown_of",
    "signal_width_pt",
    "strip_text",
    "strip_words",
    "track_page",
    "whole_sentences",
    "width_pt",
    "without_words",
]
