"""Workbooks unpacked within bounds, and looked at before anything is made of their cells.

An ``.xlsx`` or an ``.ods`` is an archive of XML. A few kilobytes of it may unfold to gigabytes, a single
cell in the last corner of a sheet makes a table of seventeen thousand million cells, and XML may define
texts that grow. So each member is unpacked up to a bound, XML with a document type is refused, and the size
of each sheet is known before it is read.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass, field
from xml.parsers import expat

from hitlab.errors import ReadingError

__all__ = ["MOST_CELLS", "MOST_UNPACKED", "Archive", "SheetFacts", "unpack"]

MOST_UNPACKED = 1 << 29
"""Bytes beyond which a workbook is not unpacked (a default, no source): a sheet of a million rows and ten
columns has about so many."""

MOST_CELLS = 20_000_000
"""Cells beyond which a sheet is not read, counted as a rectangle (a default, no source): a million rows of
twenty columns."""

_PASSWORD = "is protected by a password. Open it in the spreadsheet program and save it without one"
_DAMAGED = "cannot be read as a workbook: it is cut short or damaged. Copy or export it again"
_REFERENCE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_XML = (".xml", ".rels")


@dataclass(slots=True)
class SheetFacts:
    """What is known of a sheet beside its values.

    Attributes
    ----------
    rows, columns
        Size of the rectangle from the first cell to the last one with something in it.
    errors
        (row, column), from 0 -> what stands in a cell whose formula failed.
    formulas
        Cells with a formula.
    unstored
        (row, column), from 0, of formulas whose value is not in the file.
    merged
        First and last (row, column), from 0, of cells that were merged; of ``.ods`` only.
    """

    rows: int = 0
    columns: int = 0
    errors: dict[tuple[int, int], str] = field(default_factory=dict)
    formulas: int = 0
    unstored: set[tuple[int, int]] = field(default_factory=set)
    merged: list[tuple[tuple[int, int], tuple[int, int]]] = field(default_factory=list)

    def holds(self, row: int, column: int) -> None:
        """Note a cell with something in it."""
        self.rows, self.columns = max(self.rows, row + 1), max(self.columns, column + 1)


@dataclass(frozen=True, slots=True)
class Archive:
    """A workbook that was unpacked and looked at.

    Attributes
    ----------
    packed
        The members that were looked at and nothing else, for whatever reads the cells.
    sheets
        Name of each sheet -> what is known of it.
    macros
        Whether the workbook has macros.
    """

    packed: bytes
    sheets: dict[str, SheetFacts]
    macros: bool


def unpack(data: bytes, name: str) -> Archive:
    """Unpack a workbook within bounds and look at it.

    Parameters
    ----------
    data
        The file.
    name
        What to call it in messages.

    Raises
    ------
    ReadingError
        Where it is damaged, protected by a password, larger than the bounds or no workbook, or its XML is not
        as it should be.
    """
    members, macros = _members(data, name)
    opened: dict[str, SheetFacts]
    if "content.xml" in members:
        if b"encryption-data" in members.get("META-INF/manifest.xml", b""):
            raise ReadingError(f"{name} {_PASSWORD}.")
        opened = _ods(members["content.xml"], name)
        looked_at = {"content.xml"}
    elif "xl/workbook.xml" in members:
        opened, looked_at = _xlsx(members, name)
    elif "xl/workbook.bin" in members:
        raise ReadingError(f"{name} is a binary workbook (.xlsb). Save it as .xlsx or as CSV.")
    else:
        raise ReadingError(f"{name} is a zip archive and no workbook. Unpack it and name the tables in it.")
    for member, content in members.items():
        if member.endswith(_XML) and member not in looked_at:
            _parse(content, f"{name} ({member})", None)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for member, content in members.items():
            archive.writestr(member, content)
    return Archive(packed.getvalue(), opened, macros)


def _members(data: bytes, name: str) -> tuple[dict[str, bytes], bool]:
    """XML members of the archive, unpacked; and whether there are macros among the others."""
    found: dict[str, bytes] = {}
    macros, left = False, MOST_UNPACKED
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            infos = archive.infolist()
            if sum(info.file_size for info in infos) > MOST_UNPACKED:
                raise _too_large(name)
            if len({info.filename for info in infos}) < len(infos):
                raise ReadingError(f"{name} {_DAMAGED}. (Two members of one name.)")
            for info in infos:
                macros |= info.filename.endswith("vbaProject.bin") or info.filename.startswith("Basic/")
                if info.flag_bits & 1:
                    raise ReadingError(f"{name} {_PASSWORD}.")
                if not info.filename.endswith((*_XML, "mimetype", "workbook.bin")):
                    continue  # pictures, macros and printer settings are not looked at
                with archive.open(info) as member:
                    content = member.read(left + 1)
                left -= len(content)
                if left < 0:
                    raise _too_large(name)
                found[info.filename.lstrip("/")] = content
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, OSError, ValueError) as error:
        raise ReadingError(f"{name} {_DAMAGED}. ({str(error)[:100] or type(error).__name__})") from error
    except RuntimeError as error:  # what zipfile raises for a member that is encrypted
        raise ReadingError(f"{name} {_PASSWORD}.") from error
    return found, macros


def _too_large(name: str) -> ReadingError:
    return ReadingError(
        f"{name} unpacks to more than {MOST_UNPACKED:,} bytes, which no sheet of pitches does. Save the "
        "sheet as CSV, or cut it into several workbooks."
    )


Start = Callable[[str, dict[str, str]], None]


def _parse(
    content: bytes,
    name: str,
    start: Start | None,
    end: Callable[[str], None] | None = None,
    text: Callable[[str], None] | None = None,
) -> None:
    """Go through XML; what defines a document type is refused, since it may define texts that grow."""
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True

    def refuse(*_: object) -> None:
        raise ReadingError(f"{name} has XML with a document type, which no workbook needs, and is not read.")

    parser.StartDoctypeDeclHandler = refuse
    parser.EntityDeclHandler = refuse
    if start is not None:
        given = start
        parser.StartElementHandler = lambda tag, attributes: given(tag.rpartition(" ")[2], attributes)
    if end is not None:
        closed = end
        parser.EndElementHandler = lambda tag: closed(tag.rpartition(" ")[2])
    if text is not None:
        parser.CharacterDataHandler = text
    try:
        parser.Parse(content, True)
    except expat.ExpatError as error:
        raise ReadingError(f"{name} {_DAMAGED}. ({str(error)[:100]})") from error


def _local(attributes: dict[str, str], name: str) -> str:
    """Value of an attribute, in whatever namespace it stands."""
    if name in attributes:
        return attributes[name]
    return next((value for key, value in attributes.items() if key.rpartition(" ")[2] == name), "")


def _xlsx(members: dict[str, bytes], name: str) -> tuple[dict[str, SheetFacts], set[str]]:
    """Sheets of an .xlsx by name, and the members that were gone through for it."""
    targets: dict[str, str] = {}
    sheets: list[tuple[str, str]] = []

    def relation(tag: str, attributes: dict[str, str]) -> None:
        if tag == "Relationship":
            targets[attributes.get("Id", "")] = attributes.get("Target", "")

    def sheet(tag: str, attributes: dict[str, str]) -> None:
        if tag == "sheet":
            # The attribute without a namespace is the sheet's number; its part is named by the other.
            part = next((value for key, value in attributes.items() if key.endswith(" id")), "")
            sheets.append((attributes.get("name", ""), part))

    relations = members.get("xl/_rels/workbook.xml.rels", b"<none/>")
    _parse(relations, f"{name} (xl/_rels/workbook.xml.rels)", relation)
    _parse(members["xl/workbook.xml"], f"{name} (xl/workbook.xml)", sheet)
    found: dict[str, SheetFacts] = {}
    looked_at = {"xl/workbook.xml", "xl/_rels/workbook.xml.rels"}
    for title, part in sheets:
        target = targets.get(part, "")
        member = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
        if member in members:
            found[title] = _xlsx_sheet(members[member], f"{name}, {title}")
            looked_at.add(member)
    for member in members:  # what no name leads to is looked at all the same
        if member.startswith("xl/worksheets/") and member.endswith(".xml") and member not in looked_at:
            _xlsx_sheet(members[member], f"{name} ({member})")
            looked_at.add(member)
    return found, looked_at


def _xlsx_sheet(content: bytes, name: str) -> SheetFacts:
    facts = SheetFacts()
    row, column = -1, -1
    kind, inside, value, formula, filled = "", "", "", False, False

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal row, column, kind, inside, value, formula, filled
        if tag == "row":
            given = attributes.get("r", "")
            row = int(given) - 1 if given.isdecimal() and len(given) < 9 else row + 1
            column = -1
        elif tag == "c":
            found = _REFERENCE.fullmatch(attributes.get("r", ""))
            if found:
                row, column = int(found[2]) - 1, _column(found[1])
            else:
                column += 1
            kind, value, formula, filled = attributes.get("t", ""), "", False, False
        elif tag == "f":
            formula = True
        inside = tag

    def text(some: str) -> None:
        nonlocal value, filled
        if inside in ("v", "t"):
            filled = True
            if len(value) < 40:
                value += some

    def end(tag: str) -> None:
        nonlocal inside
        if tag == "c":
            if formula:
                facts.formulas += 1
                if not filled:
                    facts.unstored.add((row, column))
            if filled or formula:
                facts.holds(row, column)
            if kind == "e" and filled:
                facts.errors[row, column] = value.strip()
            _bounded(facts, name)
        inside = ""

    _parse(content, name, start, end, text)
    return facts


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number - 1


def _bounded(facts: SheetFacts, name: str) -> None:
    if facts.rows * facts.columns > MOST_CELLS:
        raise ReadingError(
            f"{name} has cells up to row {facts.rows:,} and column {facts.columns:,}, together more than "
            f"{MOST_CELLS:,}. If a cell far off was filled by mistake, empty it; else save the sheet as CSV."
        )


def _ods(content: bytes, name: str) -> dict[str, SheetFacts]:
    found: dict[str, SheetFacts] = {}
    facts = SheetFacts()
    title = ""
    row, column, again, last, depth = 0, 0, 1, -1, 0

    def number(attributes: dict[str, str], what: str) -> int:
        given = _local(attributes, what)
        return max(int(given), 1) if given.isdecimal() and len(given) < 9 else 1

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal facts, title, row, column, again, last, depth
        if tag == "table":
            depth += 1
            if depth == 1:
                title = _local(attributes, "name")
                facts, row = SheetFacts(), 0
                found[title] = facts
        elif tag == "table-row":
            column, last, again = 0, -1, number(attributes, "number-rows-repeated")
        elif tag in ("table-cell", "covered-table-cell"):
            many = number(attributes, "number-columns-repeated")
            kind = _local(attributes, "value-type")
            if kind:
                last = column + many - 1
                facts.holds(row, last)
            if _local(attributes, "formula"):
                facts.formulas += 1
                if not kind:
                    facts.unstored.add((row, column))
            rows, columns = (number(attributes, f"number-{one}-spanned") for one in ("rows", "columns"))
            if rows > 1 or columns > 1:
                facts.merged.append(((row, column), (row + rows - 1, column + columns - 1)))
            column += many
            _bounded(facts, f"{name}, {title}")

    def end(tag: str) -> None:
        nonlocal row, depth
        if tag == "table-row":
            row += again
            if last >= 0:
                facts.holds(row - 1, last)
                _bounded(facts, f"{name}, {title}")
        elif tag == "table":
            depth -= 1

    _parse(content, f"{name} (content.xml)", start, end)
    return found
