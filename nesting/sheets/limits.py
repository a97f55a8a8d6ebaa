"""What a file may weigh before anything in it is parsed, so that no file can exhaust the machine."""

from __future__ import annotations

import zipfile
from dataclasses import dataclass
from pathlib import Path
from xml.parsers import expat

from nesting.errors import Where
from nesting.sheets.findings import Findings

_OLE_MAGIC = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ACCEPTED = "a workbook saved as .xlsx, or a .csv file, is accepted"
_CHUNK = 1 << 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """
    Sizes beyond which a file is refused.

    Parameters
    ----------
    file_bytes
        Size on disk.
    members, unpacked_bytes, ratio
        Files inside a workbook, their size together, and unpacked over packed size of any one file
        larger than ``ratio_from`` bytes.
    rows, columns, cells
        Furthest row and column with anything in it, filled cells of one sheet.
    text
        Longest text of a cell, in characters.
    """

    file_bytes: int = 20_000_000
    members: int = 1_000
    unpacked_bytes: int = 100_000_000
    ratio: int = 200
    ratio_from: int = 1_000_000
    rows: int = 50_000
    columns: int = 256
    cells: int = 1_000_000
    text: int = 2_000


LIMITS = Limits()


class _RootMet(Exception):
    """The root element began: no document type declaration can follow."""


class _Declared(Exception):
    """A document type declaration: no workbook needs one, every entity bomb does."""


def check_file(path: Path, findings: Findings, limits: Limits = LIMITS) -> bool:
    """
    Tell whether a file may be parsed, and say why where it may not.

    Looks at the suffix, the size and, for a workbook, the directory of the archive and the first
    element of every XML part; nothing is unpacked further than that.
    """
    where = Where(path.name)
    suffix = path.suffix.lower()
    if suffix not in (".xlsx", ".csv"):
        findings.error(
            "file-kind", where, suffix or path.name, f"This kind of file is not read; {_ACCEPTED}."
        )
        return False
    try:
        size = path.stat().st_size
        with path.open("rb") as file:
            magic = file.read(8)
    except OSError as why:
        findings.error(
            "file-not-read", where, path.name, f"The file cannot be opened: {why.strerror or why}."
        )
        return False
    if size == 0:
        findings.error("empty-file", where, path.name, f"The file is empty; {_ACCEPTED}.")
        return False
    if size > limits.file_bytes:
        findings.error(
            "file-too-large",
            where,
            f"{size} bytes",
            f"At most {limits.file_bytes} bytes are read; {_ACCEPTED}.",
        )
        return False
    if magic == _OLE_MAGIC:
        findings.error(
            "old-or-locked-workbook",
            where,
            path.name,
            "The file is an old .xls workbook or is locked with a password; "
            "save it as .xlsx without a password.",
        )
        return False
    if suffix == ".csv":
        if magic.startswith(b"PK\x03\x04"):
            findings.error(
                "file-kind", where, path.name, "The file is a workbook named .csv; rename it to .xlsx."
            )
            return False
        return True
    return _check_archive(path, where, findings, limits)


def _check_archive(path: Path, where: Where, findings: Findings, limits: Limits) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            members = archive.infolist()
            if trouble := _too_heavy(members, limits):
                findings.error(
                    "archive-too-large", where, trouble, "No run list needs this much; save it afresh."
                )
                return False
            if any(member.flag_bits & 1 for member in members):
                findings.error(
                    "locked-archive", where, path.name, "The file is locked; save it without a password."
                )
                return False
            names = {member.filename for member in members}
            if "[Content_Types].xml" not in names or not any(name.startswith("xl/") for name in names):
                findings.error(
                    "not-a-workbook", where, path.name, f"The archive holds no workbook; {_ACCEPTED}."
                )
                return False
            declared = [
                member.filename
                for member in members
                if member.filename.endswith((".xml", ".rels")) and _declares_type(archive, member)
            ]
    except Exception as why:  # a damaged archive raises almost anything: bad offsets, zlib, codecs
        findings.error("damaged-file", where, f"{type(why).__name__}", f"The file is damaged; {_ACCEPTED}.")
        return False
    if declared:
        findings.error(
            "document-type", where, declared[0], "The file declares XML entities, which no workbook does."
        )
        return False
    return True


def _too_heavy(members: list[zipfile.ZipInfo], limits: Limits) -> str:
    if len(members) > limits.members:
        return f"{len(members)} files inside, at most {limits.members} are read"
    total = sum(member.file_size for member in members)
    if total > limits.unpacked_bytes:
        return f"{total} bytes unpacked, at most {limits.unpacked_bytes} are read"
    for member in members:
        if member.file_size > limits.ratio_from and member.file_size > limits.ratio * member.compress_size:
            return f"{member.filename} unpacks to {member.file_size} bytes from {member.compress_size}"
    return ""


def _declares_type(archive: zipfile.ZipFile, member: zipfile.ZipInfo) -> bool:
    """Parse up to the root element; expat knows every encoding a byte search would miss."""
    parser = expat.ParserCreate()

    def declared(*_: object) -> None:
        raise _Declared

    def root(*_: object) -> None:
        raise _RootMet

    parser.StartDoctypeDeclHandler = declared
    parser.StartElementHandler = root
    try:
        with archive.open(member) as part:
            while chunk := part.read(_CHUNK):
                parser.Parse(chunk, False)
    except _Declared:
        return True
    except _RootMet:
        return False
    return False
