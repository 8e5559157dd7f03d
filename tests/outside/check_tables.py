"""Reads the workbook with openpyxl and the CSV files with Python's csv, and compares the two.

Arguments: the folder with the data files, and a JSON file with what to expect:
{"date": "2027-05-14", "sheets": {"Circuits": "circuits.csv", ...}}
"""

import csv
import json
import sys
from datetime import date, datetime
from pathlib import Path

import openpyxl

# What OWASP's page "CSV Injection" says a cell must not begin with.
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def fail(text):
    print(text)
    sys.exit(1)


def is_number(text):
    try:
        float(text)
        return True
    except ValueError:
        return False


def plain(text):
    """Line ends as a workbook keeps them."""
    return text.replace("_x000D_", "\r").replace("\r\n", "\n").replace("\r", "\n")


def check_sheet(sheet):
    if sheet.freeze_panes != "A2":
        fail(f"{sheet.title}: the head is not frozen: {sheet.freeze_panes}")
    if sheet.auto_filter.ref != sheet.dimensions:
        fail(f"{sheet.title}: the filter covers {sheet.auto_filter.ref} of {sheet.dimensions}")
    if sheet.print_title_rows != "$1:$1":
        fail(f"{sheet.title}: the head is not repeated: {sheet.print_title_rows}")
    setup = sheet.page_setup
    if setup.orientation != "landscape" or setup.fitToWidth not in (None, 1) or setup.fitToHeight != 0:
        fail(f"{sheet.title}: {setup.orientation}, {setup.fitToWidth} × {setup.fitToHeight} pages")
    if not sheet.sheet_properties.pageSetUpPr.fitToPage:
        fail(f"{sheet.title}: not fitted to the page")
    heads = [c.value for c in sheet[1]]
    if len(set(heads)) != len(heads) or not all(isinstance(h, str) for h in heads):
        fail(f"{sheet.title}: heads {heads}")
    for row in sheet.iter_rows(min_row=2):
        for cell in row:
            if cell.data_type == "f":
                fail(f"{sheet.title} {cell.coordinate} is a formula: {cell.value}")
            if cell.data_type == "e":
                fail(f"{sheet.title} {cell.coordinate} is a fault: {cell.value}")
    # A number has its unit in the head, never in its cell: a column is of numbers or of texts.
    for column in sheet.iter_cols(min_row=2):
        kinds = {type(c.value) for c in column if c.value is not None} - {datetime}
        if str in kinds and kinds & {int, float}:
            fail(f"{sheet.title}: column {column[0].column_letter} mixes numbers and texts")


def compare(sheet, path):
    raw = path.read_bytes()
    if raw.startswith(b"\xef\xbb\xbf") or not raw.endswith(b"\r\n"):
        fail(f"{path.name}: byte order mark, or no CRLF at its end")
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file, strict=True))
    if len({len(r) for r in rows}) != 1:
        fail(f"{path.name}: rows of {set(len(r) for r in rows)} cells")
    cells = [[c.value for c in row] for row in sheet.iter_rows()]
    if len(cells) != len(rows):
        fail(f"{path.name}: {len(rows)} rows, the sheet has {len(cells)}")
    numbers = 0
    for line, (row, wanted) in enumerate(zip(rows, cells), 1):
        for text, value in zip(row, wanted, strict=True):
            at = f"{path.name} line {line}: {text!r} and {value!r}"
            if isinstance(value, (int, float)):
                numbers += 1
                if float(text) != value:
                    fail(at)
            elif value is None:
                if text:
                    fail(at)
            else:
                if text.startswith(FORMULA):
                    fail(f"{at}: begins like a formula")
                guarded = text[1:] if text.startswith("'") and text[1:].startswith(FORMULA) else text
                if plain(guarded) != plain(value):
                    fail(at)
    return numbers


def main():
    folder, expected = Path(sys.argv[1]), json.loads(Path(sys.argv[2]).read_text(encoding="utf-8"))
    book = openpyxl.load_workbook(folder / "schedules.xlsx")
    created = book.properties.created
    if created.date() != date.fromisoformat(expected["date"]):
        fail(f"created {created}")
    if not book.properties.title:
        fail("no title")
    for sheet in book.worksheets:
        check_sheet(sheet)
    numbers = 0
    for name, file in expected["sheets"].items():
        numbers += compare(book[name], folder / file)
    print(json.dumps({"sheets": book.sheetnames, "numbers": numbers}))


main()
