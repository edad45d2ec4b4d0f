"""What each field of a manifest means, for its schema and its messages."""

from types import MappingProxyType
from typing import Final

FIELDS: Final = MappingProxyType(
    {
        # the release
        "Release.name": "Name of the release.",
        "Release.number": "1, or one more than that of the release it supersedes.",
        "by": "Who released it.",
        "at": "When, in UTC.",
        "tool": "The program that made it.",
        "Tool.name": "Its name.",
        "version": "Its version.",
        "supersedes": "The earlier release that it takes the place of; absent = none.",
        "options": "What the command line settled, beside the settings files.",
        "judged": "What the parts were judged by. No error stands open in a release.",
        "writers": "The programs that wrote NC files of the delivery.",
        "marks": "Each piece mark.",
        "left_out": "What of the delivery is no part of the release, and why.",
        "remarks": "What the search for files passed over; these findings are in the reports too.",
        "inputs": "Every file that the release was made of, as it was read.",
        "outputs": "Every file that was made.",
        # superseding
        "Superseded.name": "Name of the earlier release.",
        "Superseded.number": "Its number.",
        "manifest_sha256": "SHA-256 of its manifest.",
        "taken_over": "Marks that are the same in both, files and all.",
        "changed": "Marks that are not what they were.",
        "new": "Marks that it did not have.",
        "dropped": "Marks that it had and this one has not.",
        "what": "What changed, in words.",
        # options
        "formats": "Formats that parts are written in.",
        "nc": "Settings of the detailer format that were given on the command line.",
        "Options.practice": "Code to judge by that was given there; absent = that of the settings.",
        "as_of": "Day by which dated waivers are judged; absent = dates do not count.",
        "paper": "Paper of sheets; absent = the usual one.",
        "machines": "Machine profiles that the parts are held against, by the names of inputs.",
        # judging
        "Judged.practice": "Codes and editions, in words.",
        "rules": "Rules that were applied.",
        "not_applied": "Rules that were not.",
        "rule": "Name of the rule.",
        "severity": "How much it weighs.",
        "message": "A whole sentence.",
        "why": "Why.",
        "warnings": "How many warnings stand open.",
        "notes": "How many notes.",
        "waived": "How many findings a waiver accepts.",
        "writer": "Fingerprint of the program that wrote the files.",
        "Writer.settings": "Settings that its files were read with, given or settled by evidence.",
        "Writer.files": "Names of its files.",
        # marks
        "mark": "Piece mark.",
        "order": "Order it belongs to; absent = not said.",
        "status": "Whether its files are released.",
        "reason": "Why it is on hold; absent = it is not.",
        "revision": "Its revision; absent = not said.",
        "quantity": "Pieces to make.",
        "section": "Section, as the tables spell it.",
        "length_mm": "Length over all.",
        "grade": "Grade; absent = not said.",
        "units": "Units of its author.",
        "mass_kg": "Mass of one piece as billed: mass per metre times length.",
        "net_mass_kg": "Mass of one piece without holes and cuts.",
        "piece": "The same for parts that are one piece, in whichever way they lie.",
        "source": "Name of the input that it comes from.",
        "Mark.files": "Its files, by path; absent = none, it is on hold.",
        # files
        "Remark.path": "File or folder that it is about, as findings call it.",
        "path": "Path in the release; letters, digits and ~ . _ + - only.",
        "bytes": "Size in bytes.",
        "sha256": "SHA-256 of its bytes.",
        "role": "What it is.",
        "KeptFile.name": "Its name in the delivery, which findings call it by.",
        "KeptFile.format": "Format that a part file is read as; absent = it is none.",
        "MadeFile.format": "Format it is written in.",
        "KeptFile.settings": "Settings file that it comes under, by name; absent = none.",
        "waivers": "Waiver files that it comes under, by name, the nearest first.",
        "uses": "Files that it uses, by name.",
        "whole": "Whether the parts it stands over were all looked at.",
    }
)
"""Field -> meaning; ``Definition.field`` where one name means two things."""

DOCUMENT: Final = MappingProxyType(
    {
        "$schema": "Schema of this document, for editors.",
        "format": "Name of this format.",
        "version": "Version of this format; the number before the point changes when an old"
        " reader would misread a new document.",
        "caution": "What the checks do not replace; show it where a person reads results.",
        "release": "The release.",
    }
)
"""Fields of the document itself."""
