"""Scripts of practice: what is read, what comes back as written, every mistake word for word."""

from __future__ import annotations

import math

import pytest

from shorefast.app.practice_script import Script, failure_at, read_script, script_rows
from shorefast.app.practice_words import Aboard, order_of, words_of
from shorefast.errors import BadInput
from shorefast.manoeuvre import FAILURES, ORDERS, Failure, Order, Setting, Timed, drawn_value

ABOARD = Aboard(2, 3000.0)
FORMS = (
    "helm port 20, helm starboard 20, helm midships, helm by crew, ahead 30 %, astern 1500 rpm,"
    " neutral, stop engine, engine stopped, start engine, thruster port 50 %, thruster off, let go,"
    " chain to 40 m, hold chain, chain by crew, tend line, leave line, go to ladder, step back,"
    " take line 1, come back, line 1 to 23 m, hold line 1, cast off line 1, say, fail or end"
)


def _read(tmp_path, text):
    file = tmp_path / "practice.txt"
    file.write_text(text, encoding="utf-8")
    return read_script(file, ABOARD)


def test_an_order_a_line_with_its_time_in_seconds_or_minutes(tmp_path):
    read = _read(
        tmp_path,
        "# the run in\n"
        "wind 12.5 kn from 230   # at 10 m\n"
        "gusts\nseed 7\nline 2 waits ashore\ndrawn failures 1\nfail engine stops @ 1:30\n\n"
        "0     helm PORT 20 deg\n"
        "12.5  Astern 1500 rpm\n"
        "1:02  chain to 20 fathoms\n"
        "1:02  say the  anchor is down\n",
    )
    assert read.setting.wind_mps == pytest.approx(12.5 * 1852.0 / 3600.0)
    assert read.setting.from_rad == pytest.approx(math.radians(230.0))
    assert (read.setting.gusts, read.setting.seed, read.setting.ahead) == (True, 7, 2)
    assert (read.setting.drawn, read.setting.failures) == (1, (Failure("engine stops", 90.0),))
    assert read.orders == (
        Timed(0.0, Order("helm", -math.radians(20.0))),
        Timed(12.5, Order("revs", -0.5)),
        # a fathom is six feet, and a foot 0.3048 m
        Timed(62.0, Order("chain to", pytest.approx(36.576))),
        Timed(62.0, Order("say", words="the anchor is down")),
    )


EVERY = (
    Order("helm", math.radians(-35.0)), Order("helm", 0.0), Order("helm by crew"),
    Order("revs", 0.35), Order("revs", -1.0), Order("neutral"), Order("stop engine"),
    Order("start engine"), Order("engine stopped"), Order("thruster", -0.5),
    Order("thruster", 0.0), Order("let go"), Order("chain to", 36.576), Order("hold chain"),
    Order("chain by crew"), Order("tend line"), Order("leave line"), Order("go to ladder"),
    Order("step back"), Order("take line", line=2), Order("come back"),
    Order("line to", 23.4, 1), Order("hold line", line=1), Order("cast off", line=2),
    Order("say", words="breaking off"), Order("end"),
    *(Order("fail", failure=Failure(kind, 0.0, drawn_value(kind))) for kind in FAILURES),
    Order("fail", failure=Failure("line parts", 0.0, None, 2)),
)  # fmt: skip


def test_every_order_there_is_is_tried_here():
    assert {one.do for one in EVERY} == set(ORDERS)


@pytest.mark.parametrize("order", EVERY, ids=words_of)
def test_an_order_written_down_is_read_back_to_the_bit(order):
    assert order_of(words_of(order), "here", ABOARD) == order


@pytest.mark.parametrize("number", ["33.333333333333336", "99.9", "0.1", "7", "28.571428"])
def test_odd_values_come_back_to_the_bit_too(number):
    for words in (f"helm port {float(number) / 3}", f"ahead {number} %", f"chain to {number} ft"):
        order = order_of(words, "here", ABOARD)
        assert order_of(words_of(order), "here", ABOARD) == order


def test_what_is_set_is_written_and_read_back(tmp_path):
    setting = Setting(
        wind_mps=7.3, from_rad=1.234, gusts=True, seed=11, drawn=2, ahead=1,
        failures=(Failure("anchor drags", 61.5, 400.0), Failure("line parts", 70.0, None, 1)),
    )  # fmt: skip
    orders = (Timed(0.0, Order("let go")), Timed(600.5, Order("end")))
    read = _read(tmp_path, "\n".join(script_rows(Script(setting, orders))))
    assert read == Script(setting, orders)
    only = Setting(from_rad=2.0)
    assert _read(tmp_path, "\n".join(script_rows(Script(only, ())))).setting == only


WRONG = {
    "no order": (
        "0 helm by crew\n10 turn left\n",
        f"practice.txt, line 2: 'turn left', one of {FORMS} wanted. Correct it.",
    ),
    "no time": (
        "0 let go\nhelm port 20\n",
        "practice.txt, line 2: 'helm port 20', an order begins with its time."
        " Put the time before it.",
    ),
    "nothing that is set": (
        "windy\n",
        "practice.txt, line 1: 'windy', a time and an order wanted, or before the first of them"
        " wind 12 kn from 230, gusts, seed 7, line 1 waits ashore, drawn failures 2, or"
        " fail engine stops @ 90. Correct it.",
    ),
    "a time that is none": (
        "1:75 let go\n",
        "practice.txt, line 1: '1:75', a time in seconds, or minutes:seconds, wanted. Correct it.",
    ),
    "a time beyond all": (
        "130:00 let go\n",
        "practice.txt, line 1: '130:00', at most 120 minutes. Correct it.",
    ),
    "times that fall": (
        "60 let go\n\n30 hold chain\n",
        "practice.txt, line 3: 30, the order above it is at 60 s. Put it in its place.",
    ),
    "a time alone": (
        "60\n",
        "practice.txt, line 1: '60', an order after its time wanted. Add it.",
    ),
    "too much helm": (
        "0 helm port 60\n",
        "practice.txt, line 1: helm 60 degrees, at most 45 wanted. Correct it.",
    ),
    "too many revs": (
        "0 astern 3500 rpm\n",
        "practice.txt, line 1: 3500 rpm, at most 3000 rpm wanted. Correct it.",
    ),
    "more than all": (
        "0 ahead 120 %\n",
        "practice.txt, line 1: 120 %, at most 100 % wanted. Correct it.",
    ),
    "a length without a unit": (
        "0 chain to 40\n",
        "practice.txt, line 1: 40, a length in m, ft, fathoms, km, nm, cm, mm, in wanted."
        " Write 40 m.",
    ),
    "a length beyond all": (
        "0 chain to 900 m\n",
        "practice.txt, line 1: 900 m, at most 500 m wanted. Correct it.",
    ),
    "a line there is not": (
        "0 take line 3\n",
        "practice.txt, line 1: line 3, the lie has 2, counted from 1."
        " Number it as the stay file does.",
    ),
    "nothing said": (
        "0 say\n",
        "practice.txt, line 1: 'say' alone, what is said wanted. Write it after say.",
    ),
    "no such failure": (
        "0 fail mast\n",
        "practice.txt, line 1: 'mast', one of engine stops, throttle sticks astern, thruster dead,"
        " windlass jams, chain runs, anchor drags, line parts, point gives way, gust,"
        " swimmer in difficulty, sounder frozen, sounder wrong wanted. Correct it.",
    ),
    "a number too many": (
        "0 fail gust 3\n",
        "practice.txt, line 1: 'gust 3', no number wanted. Correct it.",
    ),
    "a number of another kind": (
        "0 fail anchor drags 3 m\n",
        "practice.txt, line 1: 'anchor drags 3 m', a number like 40 kg wanted. Correct it.",
    ),
    "a failure without its time": (
        "fail gust\n",
        "practice.txt, line 1: 'gust', a time after @ wanted. Write gust @ 90.",
    ),
    "a bearing beyond the compass": (
        "wind 8 kn from 400\n",
        "practice.txt, line 1: from 400, 0 to 360 wanted. Correct it.",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WRONG)
def test_a_mistake_is_answered_with_line_value_and_what_was_wanted(tmp_path, name):
    text, said = WRONG[name]
    with pytest.raises(BadInput) as trouble:
        _read(tmp_path, text)
    assert trouble.value.sentence == said


def test_revs_ask_for_a_boat_file_that_tells_them():
    with pytest.raises(BadInput) as trouble:
        order_of("astern 1500 rpm", "practice.txt, line 1", Aboard(2))
    assert trouble.value.sentence == (
        "practice.txt, line 1: 1500 rpm, the boat file does not tell full_revs_rpm."
        " Add it to [engine], or order a share like 30 %."
    )


def test_a_failure_of_an_option_is_read_as_in_a_script():
    found = failure_at(" Line parts 2@4:00", "--fail", ABOARD)
    assert found == Failure("line parts", 240.0, None, 2)
    # 40 kgf at 9.80665 N
    drags = failure_at("anchor drags 40 kg @ 90", "--fail", ABOARD)
    assert drags.value == pytest.approx(392.266)
