"""Make ``template.dxf``, the fixed part of every leg drawing; never imported on the road.

Run ``python -m translator.emitters.dxf._make_template`` after a change of ``_layers.py``, with
the version of ezdxf named below, and commit the result. The file is itself a whole, empty
drawing that passes an audit. Nothing in it depends on the day, the machine or the hash seed:
clock, GUIDs and the library's own marks are taken out, and classes are put in order.
"""

import io
import itertools
from typing import TYPE_CHECKING, Final

from translator.emitters.dxf._layers import (
    DIMENSION_LETTER,
    DIMENSION_STYLE,
    LAYERS,
    LINE_TYPES,
    TEXT_FONT,
    TEXT_STYLE,
)
from translator.emitters.dxf._template import TEMPLATE

if TYPE_CHECKING:
    from ezdxf.document import Drawing

EZDXF_VERSION: Final = "1.4.5"
"""The version that made the committed template."""

_FIXED_DATE: Final = "2451545.0"  # 1 January 2000 as a Julian day
_FIXED_GUID: Final = "{00000000-0000-0000-0000-000000000000}"
_HEADER: Final = {
    "$LASTSAVEDBY": "backmark",
    "$TDCREATE": _FIXED_DATE,
    "$TDUCREATE": _FIXED_DATE,
    "$TDUPDATE": _FIXED_DATE,
    "$TDUUPDATE": _FIXED_DATE,
    "$FINGERPRINTGUID": _FIXED_GUID,
    "$VERSIONGUID": _FIXED_GUID,
}

_Pair = tuple[str, str]
_Record = list[_Pair]


def make() -> str:
    """Return the text of the template as the installed ezdxf makes it."""
    stream = io.StringIO()
    _empty_drawing().write(stream)
    records = _records(stream.getvalue())
    records = _without_marks_of_the_library(records)
    records = _classes_in_order(records)
    for record in records:
        _fix_header(record)
    return "".join(f"{code:>3}\n{value}\n" for record in records for code, value in record)


def _empty_drawing() -> "Drawing":
    import ezdxf

    drawing = ezdxf.new("R2010", setup=False)  # type: ignore[attr-defined]
    for line_type in LINE_TYPES:
        drawing.linetypes.add(
            line_type.name,
            pattern=[line_type.period_mm, *line_type.pattern],
            description=line_type.description,
        )
    drawing.styles.add(TEXT_STYLE, font=TEXT_FONT)
    for layer in LAYERS:
        drawing.layers.add(
            layer.name,
            color=layer.colour,
            linetype=layer.line_type.name,
            lineweight=layer.width,
        )
    drawing.dimstyles.add(DIMENSION_STYLE, dxfattribs=_dimension_style())
    drawing.header["$TEXTSTYLE"] = TEXT_STYLE
    drawing.header["$DIMSTYLE"] = DIMENSION_STYLE
    drawing.header["$LWDISPLAY"] = 1  # wide and narrow lines show on the screen
    drawing.header["$PDMODE"] = 0  # a point is a dot; its cross is drawn by lines
    return drawing


def _dimension_style() -> dict[str, object]:
    """Return the style that draws a dimension as the emitter does; lengths in mm of paper."""
    letter = DIMENSION_LETTER
    return {
        "dimscale": 1.0,
        "dimtxt": letter,
        "dimtxsty": TEXT_STYLE,
        "dimtad": 1,  # letters above the line ...
        "dimtih": 0,  # ... and along it
        "dimtoh": 0,
        "dimgap": 0.4 * letter,
        "dimtsz": 0.35 * letter,  # oblique strokes, no arrows
        "dimexo": 0.35 * letter,
        "dimexe": 0.5 * letter,
        "dimdli": 2.2 * letter,
        "dimzin": 8,
        "dimdec": 6,
        "dimlunit": 2,
        "dimfrac": 2,
        "dimdsep": ord("."),
        "dimtofl": 1,
        "dimtix": 1,
    }


def _records(text: str) -> list[_Record]:
    """Cut a DXF text into records, each beginning with a pair of group code 0."""
    lines = text.split("\n")
    records: list[_Record] = []
    for code, value in zip(lines[0:-1:2], lines[1::2], strict=True):
        if int(code) == 0:
            records.append([])
        records[-1].append((code.strip(), value))
    return records


def _without_marks_of_the_library(records: list[_Record]) -> list[_Record]:
    dead = {
        following[1]
        for record in records
        for pair, following in itertools.pairwise(record)
        if pair in {("3", "EZDXF_META"), ("3", "CREATED_BY_EZDXF"), ("3", "WRITTEN_BY_EZDXF")}
    }
    dead |= {_handle(r) for r in records if r[0] == ("0", "APPID") and ("2", "EZDXF") in r}
    kept = [
        _without_entry(record, "EZDXF_META") for record in records if _handle(record) not in dead
    ]
    count = sum(1 for record in kept if record[0] == ("0", "APPID"))
    for record in kept:
        if record[:2] == [("0", "TABLE"), ("2", "APPID")]:
            record[:] = [(c, str(count)) if c == "70" else (c, v) for c, v in record]
    return kept


def _handle(record: _Record) -> str:
    return next((value for code, value in record if code == "5"), "")


def _without_entry(record: _Record, key: str) -> _Record:
    if ("3", key) not in record:
        return record
    at = record.index(("3", key))
    return record[:at] + record[at + 2 :]


def _classes_in_order(records: list[_Record]) -> list[_Record]:
    classes = sorted(record for record in records if record[0] == ("0", "CLASS"))
    first = next(i for i, record in enumerate(records) if record[0] == ("0", "CLASS"))
    others = [record for record in records if record[0] != ("0", "CLASS")]
    return others[:first] + classes + others[first:]


def _fix_header(record: _Record) -> None:
    for i, (code, value) in enumerate(record):
        if code == "9" and value in _HEADER:
            record[i + 1] = (record[i + 1][0], _HEADER[value])


if __name__ == "__main__":
    TEMPLATE.write_text(make(), encoding="utf-8", newline="\n")
