"""What moves her, in a boat file: engine, thruster, rudder, windlass; and her radio's names."""

from __future__ import annotations

from shorefast.basis import Basis, Finding, Input
from shorefast.boat import (
    PROPELLERS,
    WALKS,
    Engine,
    Hull,
    PullAtRevs,
    Rudder,
    Thruster,
    Windlass,
    ideal_thrust_n,
)
from shorefast.errors import BadInput
from shorefast.quantities import to_si
from shorefast.readers.toml_file import TomlTable, shown
from shorefast.readers.toml_words import key_of, maybe_size, size, word

_PROPELLER_WORDS = {
    "fixed two-blade": "fixed 2-blade",
    "fixed three-blade": "fixed 3-blade",
    "2-blade fixed": "fixed 2-blade",
    "3-blade fixed": "fixed 3-blade",
    "fixed 4-blade": "fixed 3-blade",
    "folding 2-blade": "folding",
    "folding 3-blade": "folding",
    "2-blade folding": "folding",
    "3-blade folding": "folding",
    "feathering 2-blade": "feathering",
    "feathering 3-blade": "feathering",
    "2-blade feathering": "feathering",
    "3-blade feathering": "feathering",
}
_WALK_WORDS = {"to port": "port", "to starboard": "starboard", "none": "no", "neither": "no"}
REVS_RPM = (100.0, 12_000.0)
_PULL_N = (50.0, 1e6)
# beyond this a rudder stalls astern as ahead; less than the least is no rudder's stop
_OVER_RAD = (to_si(10.0, "angle", "deg"), to_si(45.0, "angle", "deg"))
_MMSI_FIGURES = 9
_CALL_SIGN_LETTERS = (3, 8)


def read_engine(root: TomlTable) -> tuple[Engine | None, Basis]:
    """The ``[engine]`` with its skipper's own pulls; None where none is told.

    Raises
    ------
    BadInput
        If a value cannot be, or two pulls have the same revs.
    """
    table = root.table("engine")
    if table is None:
        said = "[engine] is missing; what she can prove astern is unknown"
        return None, Basis(findings=(Finding(root.name, said),))
    full_rpm = maybe_size(table, "full_revs", "turning", *REVS_RPM)
    power_w = size(table, "power", "power", 100.0, 2e6)
    across_m = size(table, "propeller_diameter", "length", 0.1, 2.0)
    engine = Engine(
        power_w=power_w,
        propeller_diameter_m=across_m,
        propeller=word(table, "propeller", PROPELLERS, _PROPELLER_WORDS),
        astern_pull_n=maybe_size(table, "astern_pull", "force", *_PULL_N),
        full_revs_rpm=full_rpm,
        walks_astern=_walks(table),
        pulls=_pulls(table, full_rpm, ideal_thrust_n(power_w, across_m)),
    )
    if engine.astern_pull_n is not None:
        told = f"{engine.astern_pull_n:g} N astern"
        return engine, Basis(inputs=(Input("engine", told, root.name),))
    said = "astern_pull_n is missing; it is estimated from power and propeller"
    return engine, Basis(findings=(Finding(table.where(), said),))


def _walks(table: TomlTable) -> str | None:
    """The way the stern goes astern; a bare false is taken as "no"."""
    if table.values.get("walks_astern") is False:
        table.taken.add("walks_astern")
        return "no"
    return word(table, "walks_astern", WALKS, _WALK_WORDS) if table.has("walks_astern") else None


def _pulls(table: TomlTable, full_rpm: float | None, most_n: float) -> tuple[PullAtRevs, ...]:
    """The skipper's own readings, by rising revs; none more than any propeller can pull."""
    pulls: dict[float, PullAtRevs] = {}
    for one in table.tables("pull"):
        revs_rpm = size(one, "revs", "turning", *REVS_RPM)
        where, got = one.where(key_of(one, "revs", "turning")), f"{revs_rpm:g}"
        if revs_rpm in pulls:
            raise BadInput(where, f"{got} a second time", "", "Give one pull for each revs.")
        if full_rpm is not None and revs_rpm > full_rpm:
            raise BadInput(where, got, f"full revs are {full_rpm:g}", "Correct one of the two.")
        pull_n = size(one, "pull", "force", *_PULL_N)
        if pull_n > most_n:
            raise BadInput(
                one.where(key_of(one, "pull", "force")),
                f"{pull_n:.0f} N",
                f"no propeller of that size pulls more than {most_n:.0f} N with that power",
                "Correct the reading, the power or the propeller.",
            )
        pulls[revs_rpm] = PullAtRevs(revs_rpm, pull_n)
    return tuple(pulls[revs_rpm] for revs_rpm in sorted(pulls))


def read_windlass(root: TomlTable) -> Windlass:
    """The ``[windlass]``; all of it unknown where none is told."""
    table = root.table("windlass")
    if table is None:
        return Windlass()
    return Windlass(
        maybe_size(table, "veer", "speed", 0.01, 5.0),
        maybe_size(table, "heave", "speed", 0.01, 5.0),
        maybe_size(table, "pull", "force", *_PULL_N),
    )


def read_thruster(root: TomlTable, hull: Hull) -> Thruster | None:
    """The ``[thruster]``; None where she has none."""
    table = root.table("thruster")
    if table is None:
        return None
    return Thruster(size(table, "push", "force", 50.0, 1e5), _along(table, hull))


def read_rudder(root: TomlTable, hull: Hull) -> Rudder | None:
    """The ``[rudder]``; None where nobody tells it."""
    table = root.table("rudder")
    if table is None:
        return None
    area_m2 = size(table, "area", "area", 0.05, 20.0)
    x_m = _along(table, hull)
    return Rudder(area_m2, x_m, size(table, "most", "angle", *_OVER_RAD))


def _along(table: TomlTable, hull: Hull) -> float:
    """A place along her, refused where it lies beyond her ends."""
    x_m, half_m = table.need("x", "length"), round(hull.length_m / 2, 2)
    if abs(x_m) > half_m:
        raise BadInput(
            table.where(key_of(table, "x", "length")),
            f"{x_m:g} m",
            f"at most {half_m:g} m either way is on board",
            "Count x from midships, forward positive.",
        )
    return x_m


def read_call_sign(root: TomlTable) -> str | None:
    """The radio's call sign in capitals; None where none is told."""
    given = root.text("call_sign")
    if given is None:
        return None
    plain = "".join(given.upper().split())
    least, most = _CALL_SIGN_LETTERS
    if not (plain.isascii() and plain.isalnum() and least <= len(plain) <= most):
        raise BadInput(
            root.where("call_sign"),
            f"'{given}'",
            f"{least} to {most} letters and figures wanted",
            "Take it from the radio's licence, or leave it out.",
        )
    return plain


def read_mmsi(root: TomlTable) -> str | None:
    """The nine figures a digital call goes to; None where none are told."""
    root.taken.add("mmsi")
    if not root.has("mmsi"):
        return None
    given = root.values["mmsi"]
    plain = "".join(given.split()) if isinstance(given, str) else ""
    if not (plain.isascii() and plain.isdigit() and len(plain) == _MMSI_FIGURES):
        raise BadInput(
            root.where("mmsi"),
            shown(given),
            "nine figures in quotes wanted",
            "Take them from the radio's licence, or leave it out.",
        )
    return plain
