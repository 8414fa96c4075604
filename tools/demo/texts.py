"""The plain text files of a demonstration: boat, bay and stays."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from demo.weather import STAMP, at_utc

Table = Mapping[str, Any]

_LINE_AGE_YEARS = 2


def _block(header: str, **keys: object) -> str:
    """One TOML table; a key whose value is None is left out."""
    rows = [header] if header else []
    rows += [f"{key} = {_said(value)}" for key, value in keys.items() if value is not None]
    return "\n".join(rows)


def _said(value: object) -> str:
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return f"[{', '.join(map(_said, value))}]"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _named(names: str, values: list[Any]) -> dict[str, Any]:
    return dict(zip(names.split(), values, strict=True))


def boat_toml(boat: Table) -> str:
    """The boat file."""
    return "\n\n".join([*_hull_blocks(boat), *_deck_blocks(boat), *_gear_blocks(boat)]) + "\n"


def _hull_blocks(boat: Table) -> Iterator[str]:
    yield f"# The demonstration yacht {boat['name']}, invented like her bay."
    yield _block("", name=boat["name"])
    hull = "length_m beam_m draught_m displacement_kg waterline_m"
    yield _block("[hull]", **_named(hull, boat["hull"]))
    windage = "frontal_m2 lateral_m2 height_m lever_m"
    yield _block("[windage]", **_named(windage, boat["windage"]))
    for name, x_m, draught_m in boat["underwater"]:
        yield _block("[[underwater]]", name=name, x_m=x_m, y_m=0.0, draught_m=draught_m)


def _deck_blocks(boat: Table) -> Iterator[str]:
    yield _block("[roller]", **_named("x_m y_m z_m", boat["roller"]))
    for place in ("quarter", "bow"):
        x_m, y_m, z_m = boat[place]
        for side, sign in (("port", -1), ("starboard", 1)):
            yield _block("[[cleat]]", name=f"{side} {place}", x_m=x_m, y_m=sign * y_m, z_m=z_m)
    yield _block("[antenna]", **_named("x_m y_m", boat["antenna"]))
    yield _block("[sounder]", **_named("x_m y_m draught_m", boat["sounder"]))


def _gear_blocks(boat: Table) -> Iterator[str]:
    engine = "power_kw propeller_diameter_m propeller astern_pull_n full_revs_rpm walks_astern"
    yield _block("[engine]", **_named(engine, boat["engine"]))
    yield _block("[windlass]", **_named("veer_mps heave_mps pull_n", boat["windlass"]))
    yield _block("[anchor]", **_named("class mass_kg", boat["anchor"]))
    diameter_mm, length_m = boat["chain"]
    yield _block("[[rode]]", kind="chain", grade=30, diameter_mm=diameter_mm, length_m=length_m)
    if boat["snubber"]:
        tail = _named("diameter_mm length_m", boat["snubber"])
        yield _block("[snubber]", fibre="nylon", **tail)
    names, diameter_mm, length_m = boat["lines"]
    line = {"diameter_mm": diameter_mm, "length_m": length_m, "age_years": _LINE_AGE_YEARS}
    for name in names:
        yield _block("[[line]]", name=name, fibre="polypropylene", **line)
    for name, kind, sling_m in boat["slings"]:
        yield _block("[[sling]]", name=name, kind=kind, length_m=sling_m or None)
    yield _block("[rudder]", **_named("area_m2 x_m most_deg", boat["rudder"]))
    if "thruster" in boat:
        yield _block("[thruster]", **_named("push_n x_m", boat["thruster"]))
    if "tender" in boat:
        size = _named("length_m beam_m draught_m", boat["tender"])
        yield _block("[tender]", **size, on_deck=True)


def bay_toml(table: Table) -> str:
    """The bay's own file; soundings, shore and zones lie beside it."""
    blocks = [
        f"# {table['name']}: invented, and put in mid-ocean on purpose.",
        _block(
            "",
            name=table["name"],
            lat_deg=table["lat_deg"],
            lon_deg=table["lon_deg"],
            zone=table["zone"],
            chart_datum="lowest astronomical tide",
            bottom=table["bottom"],
        ),
        _block("[[depths]]", file="soundings.csv", depth="down", deviation_m=0.15),
        _block("[[shore]]", file="shore.geojson"),
    ]
    for name, kind, east_m, north_m, height_m in table["points"]:
        place = {"east_m": east_m, "north_m": north_m, "height_m": height_m}
        blocks.append(_block("[[point]]", name=name, kind=kind, **place))
    blocks.append(_block("[[zones]]", file="zones.geojson"))
    return "\n\n".join(blocks) + "\n"


def whole_lie(lies: Table, name: str) -> dict[str, Any]:
    """A lie with all it takes over from the one it is like."""
    own = dict(lies[name])
    like = whole_lie(lies, own.pop("like")) if "like" in own else {"lines": []}
    lines = [*own.pop("lines", like["lines"]), *own.pop("also", [])]
    return {**like, **own, "lines": lines}


def stay_toml(table: Table, plan: Table, chosen: list[str]) -> str:
    """One stay: a lie, its hours, and where the other files are."""
    lie = whole_lie(plan["lies"], chosen[0])
    from_clock, until_clock = chosen[1:] or plan["hours"]
    pull_n, minutes = plan["proof"]
    blocks = [
        f"# {table['name']}. {lie['remark']}",
        _block("", boat="boat.toml", bay="bay")
        + f"\nfrom_utc = {at_utc(table, from_clock).strftime(STAMP)}"
        + f"\nuntil_utc = {at_utc(table, until_clock).strftime(STAMP)}",
        _block("[[forecast]]", file=plan["forecast"]),
        _block("[tide]", file="tide.csv"),
        _block("[proof]", pull_n=pull_n, toward_deg=lie["toward"], minutes=minutes),
        _lie_block(lie),
    ]
    for line, cleat, point, length_m in lie["lines"]:
        ashore = {"line": line, "cleat": cleat, "point": point, "length_m": length_m}
        blocks.append(_block("[[lie.line]]", **ashore))
    blocks += [
        _block("[water]", temperature_c=plan["water"]),
        _block("[watch]", each_h=plan["watch"]),
        *(_person(*one) for one in plan["people"]),
    ]
    return "\n\n".join(blocks) + "\n"


def _person(name: str, duties: list[str], able: bool) -> str:
    return _block("[[person]]", name=name, duties=duties, able=None if able else False)


def _lie_block(lie: Table) -> str:
    east_m, north_m = lie["let_go"]
    place = f"let_go = {{ east_m = {east_m:g}, north_m = {north_m:g} }}"
    return (
        _block("[lie]")
        + f"\n{place}\n"
        + _block("", chain_out_m=lie["chain"], heading_deg=lie["bow"])
    )
