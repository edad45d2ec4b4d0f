"""Zip archives for tests: those that the standard library writes, and forgeries.

Records of the format that no writer makes are forged byte by byte after PKWARE's APPNOTE.TXT 6.3
(sections 4.3 and 4.4).
"""

import io
import struct
import warnings
import zipfile
from pathlib import Path

from translator.batch.discover import discover
from translator.readers import readers

KNOWN = readers()
PART = "units mm\npart {} {{ section FB100x10 length 80 }}\n"
CLIP = PART.format("P1").encode()


def zipped(path, files, *, pack=zipfile.ZIP_DEFLATED, before=b"", comment=b""):
    """Write an archive; ``files`` are pairs, so that a name may stand in it twice."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the writer's own word on a name twice
        buffer = io.BytesIO()
        buffer.write(before)
        with zipfile.ZipFile(buffer, "a", pack) as archive:
            for name, data in files:
                archive.writestr(zipfile.ZipInfo(name), data, pack)
            archive.comment = comment
    path.write_bytes(buffer.getvalue())
    return path


def patched(path, sign, offset, value):
    """Overwrite bytes in each record that begins with a sign."""
    data = bytearray(path.read_bytes())
    at = data.find(sign)
    while at >= 0:
        data[at + offset : at + offset + len(value)] = value
        at = data.find(sign, at + 1)
    path.write_bytes(data)
    return path


def look(*paths, **more):
    found = discover([Path(path) for path in paths], KNOWN, **more)
    told = [(f.rule, f.severity.value, f.span.path, f.message) for f in found.findings]
    return [file.name for file in found.files], told


def forged(names, *, sizes=None, entries=None, head=b""):
    """Make an archive of a list alone: local headers are left to whoever reads them."""
    out = [head]
    for number, name in enumerate(names):
        raw = name if isinstance(name, bytes) else name.encode()
        size = (sizes or {}).get(number, 10)
        place = (entries or {}).get(number, number * 100)
        out.append(
            struct.pack(
                "<4s6H3L5H2L", b"PK\x01\x02", 20, 20, 0x0800, 8, 0, 33, 0, size, size,
                len(raw), 0, 0, 0, 0, 0, place,
            ) + raw
        )  # fmt: skip
    body = b"".join(out[1:])
    count = len(names) & 0xFFFF
    end = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, count, count, len(body), len(head), 0)
    return head + body + end
