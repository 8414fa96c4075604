"""Writes the test chart: an invented cove as an S-57 cell with one update, record by record.

Run it to write both files beside it again. Records as S-57 edition 3.1, Part 3 has them, from
memory; that an independent reader (GDAL) reads them is what the tests hold.
"""

import struct
from dataclasses import dataclass, field
from pathlib import Path

UNIT, FIELD = b"\x1f", b"\x1e"
COORDINATE, SOUNDING = 10_000_000, 10
NODE, CONNECTED, EDGE, FEATURE = 110, 120, 130, 100
AGENCY = 1
CLASSES = {
    "ACHARE": 4, "BCNLAT": 7, "CBLSUB": 22, "COALNE": 30, "CTNARE": 27, "DEPARE": 42, "DEPCNT": 43,
    "DRGARE": 46, "LNDARE": 71, "LNDMRK": 74, "LIGHTS": 75, "MARCUL": 82,
    "MORFAC": 84, "OBSTRN": 86,
    "PILPNT": 90, "PIPSOL": 94, "PONTON": 95, "RESARE": 112, "SBDARE": 121, "SLCONS": 122,
    "SOUNDG": 129, "UWTROC": 153, "WRECKS": 159, "M_COVR": 302, "M_QUAL": 308,
}  # fmt: skip
ATTRIBUTES = {
    "CATCOV": 18, "CATMOR": 40, "CATOBS": 42, "CATREA": 56, "CATSLC": 60, "CATZOC": 72,
    "CONDTN": 81, "DATEND": 85, "DATSTA": 86, "DRVAL1": 87, "DRVAL2": 88, "INFORM": 102,
    "NATSUR": 113, "OBJNAM": 116, "PEREND": 118, "PERSTA": 119, "QUASOU": 125, "RESTRN": 131,
    "SORDAT": 147, "SORIND": 148, "TXTDSC": 158, "VALDCO": 174, "VALSOU": 179, "WATLEV": 187,
}  # fmt: skip
FIELDS = (
    ("0001", "0500", "ISO/IEC 8211 Record Identifier", "", "(b12)"),
    ("DSID", "1600", "Data set identification field",
     "RCNM!RCID!EXPP!INTU!DSNM!EDTN!UPDN!UADT!ISDT!STED!PRSP!PSDN!PRED!PROF!AGEN!COMT",
     "(b11,b14,2b11,3A,2A(8),R(4),b11,2A,b11,b12,A)"),
    ("DSSI", "1600", "Data set structure information field",
     "DSTR!AALL!NALL!NOMR!NOCR!NOGR!NOLR!NOIN!NOCN!NOED!NOFA", "(3b11,8b14)"),
    ("DSPM", "1600", "Data set parameter field",
     "RCNM!RCID!HDAT!VDAT!SDAT!CSCL!DUNI!HUNI!PUNI!COUN!COMF!SOMF!COMT",
     "(b11,b14,3b11,b14,4b11,2b14,A)"),
    ("FRID", "1600", "Feature record identifier field", "RCNM!RCID!PRIM!GRUP!OBJL!RVER!RUIN",
     "(b11,b14,2b11,2b12,b11)"),
    ("FOID", "1600", "Feature object identifier field", "AGEN!FIDN!FIDS", "(b12,b14,b12)"),
    ("ATTF", "2600", "Feature record attribute field", "*ATTL!ATVL", "(b12,A)"),
    ("FSPT", "2600", "Feature record to spatial record pointer field", "*NAME!ORNT!USAG!MASK",
     "(B(40),3b11)"),
    ("VRID", "1600", "Vector record identifier field", "RCNM!RCID!RVER!RUIN", "(b11,b14,b12,b11)"),
    ("VRPT", "2600", "Vector record pointer field", "*NAME!ORNT!USAG!TOPI!MASK", "(B(40),4b11)"),
    ("SG2D", "2500", "2-D coordinate field", "*YCOO!XCOO", "(2b24)"),
    ("SG3D", "2500", "3-D coordinate (sounding array) field", "*YCOO!XCOO!VE3D", "(3b24)"),
)  # fmt: skip
UNDER = {"DSSI": "DSID", "FOID": "FRID", "ATTF": "FRID", "FSPT": "FRID",
         "VRPT": "VRID", "SG2D": "VRID", "SG3D": "VRID"}  # fmt: skip


def record(fields, first=b" D     "):
    """One record: leader, directory, fields."""
    directory, area = b"", b""
    for tag, data in fields:
        directory += tag.encode() + b"%05d%05d" % (len(data), len(area))
        area += data
    directory += FIELD
    base = 24 + len(directory)
    control = b"09" if first[:1] == b"3" else b"  "
    charset = b" ! " if first[:1] == b"3" else b"   "
    leader = b"%05d" % (base + len(area)) + first[:5] + control + b"%05d" % base + charset + b"5504"
    return leader + directory + area


def described():
    """The record that says how all others are built."""
    pairs = "".join(UNDER.get(tag, "0001") + tag for tag, *_ in FIELDS[1:])
    fields = [("0000", f"0000;&   \x1f{pairs}".encode() + FIELD)]
    for tag, control, name, labels, form in FIELDS:
        text = f"{control};&   {name}\x1f{labels}\x1f{form}"
        fields.append((tag, text.encode() + FIELD))
    return record(fields, b"3LE1 ")


def _text(value):
    return value.encode("latin-1") + UNIT


def _pair(lat, lon):
    return struct.pack("<ii", round(lat * COORDINATE), round(lon * COORDINATE))


@dataclass
class Writing:
    """A cell, or an update of one, being written; one issued anew has an update's number."""

    name: str
    update: int
    number: int = 1
    edition: int = 1
    changes: bool | None = None
    records: list = field(default_factory=list)
    ids: dict = field(default_factory=dict)

    def _add(self, fields):
        self.number += 1
        self.records.append(record([("0001", struct.pack("<H", self.number) + FIELD), *fields]))

    def _vector(self, kind, one, fields):
        head = struct.pack("<BIHB", kind, one, 1, 1) + FIELD
        self._add([("VRID", head), *fields])
        return struct.pack("<BI", kind, one)

    def node(self, one, lat, lon, kind=NODE):
        """A node; returns its name as pointers have it."""
        return self._vector(kind, one, [("SG2D", _pair(lat, lon) + FIELD)])

    def soundings(self, one, rows):
        """Many soundings in one node."""
        data = b"".join(
            _pair(lat, lon) + struct.pack("<i", round(depth * SOUNDING)) for lat, lon, depth in rows
        )
        return self._vector(NODE, one, [("SG3D", data + FIELD)])

    def edge(self, one, ends, between=()):
        """An edge between two connected nodes."""
        ends = b"".join(
            name + struct.pack("<BBBB", 255, 255, topology, 255)
            for name, topology in zip(ends, (1, 2), strict=True)
        )
        fields = [("VRPT", ends + FIELD)]
        if between:
            fields.append(("SG2D", b"".join(_pair(*at) for at in between) + FIELD))
        return self._vector(EDGE, one, fields)

    def ring(self, one, south, west, side_deg):
        """A closed edge round a square."""
        node = self.node(one, south, west, CONNECTED)
        north, east = south + side_deg, west + 2.0 * side_deg
        return self.edge(one, (node, node), ((north, west), (north, east), (south, east)))

    def feature(self, one, acronym, primitive, spatial, version=1, **says):
        """A feature over (name, orientation, usage) of its spatial records."""
        head = struct.pack(
            "<BIBBHHB", FEATURE, one, primitive, 2, CLASSES[acronym], version, min(version, 2)
        )
        fields = [("FRID", head + FIELD),
                  ("FOID", struct.pack("<HIH", AGENCY, one, 1) + FIELD)]  # fmt: skip
        if says:
            rows = (struct.pack("<H", ATTRIBUTES[key]) + _text(told) for key, told in says.items())
            fields.append(("ATTF", b"".join(rows) + FIELD))
        if spatial:
            rows = (name + struct.pack("<BBB", *how, 2) for name, *how in spatial)
            fields.append(("FSPT", b"".join(rows) + FIELD))
        self._add(fields)

    def point(self, one, acronym, lat, lon, **says):
        """A feature at one place."""
        self.feature(one, acronym, 1, [(self.node(one, lat, lon), 255, 255)], **says)

    def area(self, one, acronym, south, west, side_deg, **says):
        """A feature over a square of its own."""
        ring = self.ring(one, south, west, side_deg)
        self.feature(one, acronym, 3, [(ring, 1, 1)], **says)

    def whole(self):
        """All bytes of the file."""
        said = (self.name, str(self.edition), str(self.update), "20260301", "20260301")
        changes = self.changes if self.changes is not None else self.update > 0
        head = struct.pack("<BIBB", 10, 1, 2 if changes else 1, 5)
        head += b"".join(_text(one) for one in said[:3]) + "".join(said[3:]).encode() + b"03.1"
        head += struct.pack("<B", 1) + _text("") + _text("2.0") + struct.pack("<BH", 1, AGENCY)
        structure = struct.pack("<3B8I", 2, 1, 1, 0, 0, 40, 0, 20, 20, 20, 0)
        fields = [("0001", struct.pack("<H", 1) + FIELD), ("DSID", head + _text("") + FIELD),
                  ("DSSI", structure + FIELD)]  # fmt: skip
        first = [record(fields)]
        if not changes:
            measure = struct.pack("<BI3BI4B2I", 20, 1, 2, 16, 23, 10_000, 1, 1, 1, 1,
                                  COORDINATE, SOUNDING)  # fmt: skip
            fields = [("0001", struct.pack("<H", 2) + FIELD), ("DSPM", measure + _text("") + FIELD)]
            first.append(record(fields))
            self.number = max(self.number, 2)
        return described() + b"".join([*first, *self.records])


SOUTH, NORTH, WEST, EAST = 59.500, 59.510, 5.200, 5.220
LEVELS = (SOUTH, 59.503, 59.505, 59.507, 59.508, NORTH)
STRIPS = ((10.0, 30.0), (5.0, 10.0), (0.0, 5.0), (-1.5, 0.0))


def depth_at(lat):
    """What the soundings of the cove say, before they are rounded to 0.1 m."""
    return (59.507 - lat) * 2500.0


def _strips(cell):
    """Depth areas, land, contours, coast and quality, all on the same edges."""
    west = [cell.node(200 + k, lat, WEST, CONNECTED) for k, lat in enumerate(LEVELS)]
    east = [cell.node(210 + k, lat, EAST, CONNECTED) for k, lat in enumerate(LEVELS)]
    bends = [
        [(lat + 0.0002, 5.205), (lat - 0.0002, 5.215)] if 0 < k < 5 else []
        for k, lat in enumerate(LEVELS)
    ]
    across = [cell.edge(220 + k, (west[k], east[k]), bends[k]) for k in range(6)]
    left = [cell.edge(230 + k, (west[k], west[k + 1])) for k in range(5)]
    right = [cell.edge(240 + k, (east[k], east[k + 1])) for k in range(5)]

    def round_(low, high):
        east_side = [(one, 1, 1) for one in right[low:high]]
        west_side = [(one, 2, 1) for one in reversed(left[low:high])]
        return [(across[low], 1, 1), *east_side, (across[high], 2, 1), *west_side]

    for k, (least, most) in enumerate(STRIPS):
        cell.feature(1 + k, "DEPARE", 3, round_(k, k + 1), DRVAL1=f"{least}", DRVAL2=f"{most}")
    cell.feature(5, "LNDARE", 3, round_(4, 5))
    # No contour is drawn at 5 m: two depth areas meet there.
    cell.feature(6, "DEPCNT", 2, [(across[1], 1, 255)], VALDCO="10")
    cell.feature(7, "DEPCNT", 2, [(across[3], 1, 255)], VALDCO="0")
    cell.feature(8, "COALNE", 2, [(across[4], 1, 255)])
    cell.feature(9, "M_COVR", 3, round_(0, 5), CATCOV="1")
    cell.feature(10, "M_QUAL", 3, round_(0, 1), CATZOC="1")
    cell.feature(11, "M_QUAL", 3, round_(1, 5), CATZOC="4")


def soundings():
    """Places and depths, one of them drying."""
    rows = [
        (59.5005 + 0.0008 * k, 5.202 + 0.002 * j, round(depth_at(59.5005 + 0.0008 * k), 1))
        for k in range(8)
        for j in range(9)
    ]
    return [*rows, (59.5074, 5.211, -0.7)]


def cove():
    """The cell itself."""
    cell = Writing("ZZ5COVE1.000", 0, number=2)
    _strips(cell)
    said = {"SORDAT": "20250614", "SORIND": "ZZ,ZZ,graph,Survey 12"}
    cell.feature(20, "SOUNDG", 1, [(cell.soundings(20, soundings()), 255, 255)], **said)
    deep = cell.soundings(21, [(59.5002, 5.2195, 40.0)])
    cell.feature(21, "SOUNDG", 1, [(deep, 255, 255)], QUASOU="5")
    cell.point(30, "UWTROC", 59.5050, 5.2071, VALSOU="0", WATLEV="5", **said)
    cell.point(31, "UWTROC", 59.5041, 5.2093, VALSOU="1.8", WATLEV="3", QUASOU="6", **said)
    cell.point(32, "UWTROC", 59.5021, 5.2133, WATLEV="3", QUASOU="2", **said)
    cell.point(33, "UWTROC", 59.5066, 5.2155, WATLEV="4")
    cell.point(34, "WRECKS", 59.5017, 5.2051, VALSOU="6.4", WATLEV="3", OBJNAM="Gr\u00e5 Ternen")
    cell.area(35, "OBSTRN", 59.5043, 5.2161, 0.0003, CATOBS="6", WATLEV="3")
    cell.area(40, "RESARE", 59.5010, 5.2101, 0.0010, RESTRN="1,24", DATSTA="20260501",
              DATEND="20260930", INFORM="Seagrass planted", **said)  # fmt: skip
    cell.area(41, "RESARE", 59.5061, 5.2011, 0.0004, CATREA="5", RESTRN="8", PERSTA="--0401",
              PEREND="--0715")  # fmt: skip
    ends = (cell.node(42, SOUTH + 0.0001, 5.2185, CONNECTED),
            cell.node(43, 59.5079, 5.2177, CONNECTED))  # fmt: skip
    cable = cell.edge(42, ends, [(59.504, 5.2188)])
    cell.feature(42, "CBLSUB", 2, [(cable, 1, 255)], OBJNAM="\u00d8revik cable")
    pipe_ends = (cell.node(44, 59.5001, 5.2005, CONNECTED),
                 cell.node(45, 59.5075, 5.2006, CONNECTED))  # fmt: skip
    cell.feature(43, "PIPSOL", 2, [(cell.edge(44, pipe_ends), 1, 255)])
    cell.area(44, "MARCUL", 59.5052, 5.2101, 0.0003)
    cell.area(45, "ACHARE", 59.5035, 5.2021, 0.0006, OBJNAM="Inner road")
    cell.point(50, "SBDARE", 59.5020, 5.2081, NATSUR="4,17")
    cell.point(51, "SBDARE", 59.5040, 5.2121, NATSUR="1/2")
    cell.point(52, "SBDARE", 59.5060, 5.2121, NATSUR="17")
    cell.point(60, "LIGHTS", 59.5085, 5.2101)
    return cell


def update():
    """Its first update: one rock more, and the light taken away."""
    cell = Writing("ZZ5COVE1.001", 1)
    cell.point(70, "UWTROC", 59.5030, 5.2171, VALSOU="3.2", WATLEV="3", SORDAT="20260228")
    cell.feature(60, "LIGHTS", 1, [], version=2)
    return cell


if __name__ == "__main__":
    here = Path(__file__).parent
    (here / "ZZ5COVE1.000").write_bytes(cove().whole())
    (here / "ZZ5COVE1.001").write_bytes(update().whole())
