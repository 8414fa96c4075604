"""The sheet's own small print: hours and lie in one line, and what it all rests on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from shorefast.wording import bearing, local, metres, offset

if TYPE_CHECKING:
    from shorefast.briefing.content import SheetContent
    from shorefast.stay import Stay

_NUMBERS = ("no line", "one line", "two lines", "three lines", "four lines", "five lines")
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip


def hours_words(stay: Stay) -> str:
    """``Wed 24 Jun 17:30 until Thu 25 Jun 10:00 (UTC-2)``, on the place's clocks."""
    zone = stay.bay.zone_name
    first, last = local(stay.from_utc, zone), local(stay.until_utc, zone)
    shown = [
        f"{_DAYS[at.weekday()]} {at.day} {_MONTHS[at.month - 1]} {at:%H:%M}" for at in (first, last)
    ]
    if first.date() == last.date():
        shown[1] = f"{last:%H:%M}"
    return f"{shown[0]} until {shown[1]} ({offset(stay.from_utc, zone)})"


def lie_words(stay: Stay) -> tuple[str, str]:
    """Boat and hours in one row, the lie in another."""
    first = f"{stay.boat.name} · {hours_words(stay)}"
    lie = stay.lie
    if lie is None:
        return first, "the lie still to be chosen"
    count = len(lie.lines)
    lines = _NUMBERS[count] if count < len(_NUMBERS) else f"{count} lines"
    chain = f"{metres(lie.chain_out_m)} of {_rode_words(stay)}"
    bow = f"bow {bearing(lie.heading_rad)}"
    return first, " · ".join((f"{lines} ashore", chain, bow))


def _rode_words(stay: Stay) -> str:
    if not stay.boat.rode:
        return "rode"
    piece = stay.boat.rode[0]
    return f"{1000 * piece.diameter_m:.0f} mm {piece.kind}"


def sentence(words: str) -> str:
    """Words with a full stop behind, where there is none."""
    return words if words.rstrip().endswith((".", "!", "?")) else f"{words.rstrip()}."


def rests_on(content: SheetContent) -> str:
    """What the sheet rests on, as much as a foot can hold: the rest is on the back."""
    stay, judgement = content.stay, content.judgement
    members = len(set(judgement.member.tolist()))
    wind = "one forecast" if members == 1 else f"{members} members of the forecast"
    soundings = len(stay.bay.soundings.level_m)
    bed = f"{soundings:,} soundings" if soundings else "no soundings of its own"
    counted = f"{stay.bay.chart_datum}; bottom taken as {stay.bay.bottom}"
    share = 100.0 * stay.accepted_share
    taken = [sentence(entry.said) for entry in content.basis.assumptions]
    said = [f"Rests on {wind}, {bed}, heights from {counted}."]
    if not any(words.startswith("An hour is past") for words in taken):
        said.append(f"An hour is past a limit when more than {share:g} in 100 members are.")
    said += taken
    found = len(content.basis.findings)
    if found:
        said.append(f"{found} finding{'s' if found > 1 else ''} noted on the back.")
    return " ".join(said)
