"""What is poor or wrong in a PDF though the typesetter lets it pass: structure, layout, conformance. Used by check_pdf.py."""
import re
from pathlib import Path

import page as validator
import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

MM = 72 / 25.4
# Margins of templates/typst/style.typ, less what letters reach beyond their box.
# Packets have the least margin at the side. The blank at the end of a line of a title counts as text.
SIDE, TOP, BOTTOM, SLACK = 13 * MM, 8 * MM, 8 * MM, 5
# Text stands in paragraphs, headings, labels and the like, never directly in these.
HOLDERS = {"/Document", "/Part", "/Sect", "/Div", "/Table", "/TR", "/TD", "/TH", "/L", "/LI", "/LBody", "/Figure"}
HEADINGS = {f"/H{n}" for n in range(1, 7)}
# A page of less than this share of its height is nearly empty. Label sheets hold what labels are left.
FULL, LAST, HEADER, FOOTER, MAY_BE_EMPTY = 0.12, 0.08, 0.06, 0.935, ("labels",)
SHOW = {"Tj", "TJ", "'", '"'}


def elements(pdf):
    """Every structure element with the kind of the one above it."""
    todo = [(pdf.Root.StructTreeRoot, "")]
    while todo:
        element, above = todo.pop()
        kind = str(element.get("/S", ""))
        if kind:
            yield element, kind, above
        todo += [(k, kind) for k in reversed(kids(element)) if isinstance(k, pikepdf.Dictionary) and "/S" in k]


def kids(element):
    inside = element.get("/K", [])
    return list(inside) if isinstance(inside, pikepdf.Array) else [inside]


def children(element, *kinds):
    for kid in kids(element):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            if str(kid.S) in kinds:
                yield kid
            elif str(kid.S) in ("/THead", "/TBody", "/TFoot"):
                yield from children(kid, *kinds)


def scope(cell):
    attributes = cell.get("/A", [])
    attributes = list(attributes) if isinstance(attributes, pikepdf.Array) else [attributes]
    return any("/Scope" in a for a in attributes if isinstance(a, pikepdf.Dictionary))


def structure(pdf):
    faults = []
    if not str(pdf.Root.get("/Lang", "")):
        faults.append("no language")
    for element, kind, above in elements(pdf):
        if kind == "/Table":
            first = next(children(element, "/TR"), None)
            cells = list(children(first, "/TH", "/TD")) if first is not None else []
            if not cells or any(str(c.S) != "/TH" or not scope(c) for c in cells):
                faults.append("a table without a row of headers")
        if kind == "/Figure" and len(str(element.get("/Alt", "")).strip()) < 4:
            faults.append("a figure without words for who cannot see it")
        if kind in HOLDERS - {"/Figure"} and any(isinstance(k, int) for k in kids(element)):
            faults.append(f"text that is no paragraph stands in {kind} of {above}")
    return faults


def kinds_by_mark(pdf):
    """Kind of structure element for each (page, mark)."""
    places = {page.objgen: number for number, page in enumerate(pdf.pages)}
    found = {}
    for element, kind, above in elements(pdf):
        kind = above if above in HEADINGS else kind
        for kid in kids(element):
            if isinstance(kid, int):
                found[places.get(element.Pg.objgen), kid] = kind
            elif isinstance(kid, pikepdf.Dictionary) and str(kid.get("/Type")) == "/MCR":
                found[places.get((kid.get("/Pg") or element.Pg).objgen), int(kid.MCID)] = kind
    return found


def pages(pdf):
    """Pages without text of their own, and pages that end with a heading."""
    kinds, faults = kinds_by_mark(pdf), []
    for number, page in enumerate(pdf.pages):
        last, open_marks, count = None, [], 0
        for operands, operator in pikepdf.parse_content_stream(page):
            name = str(operator)
            if name in ("BDC", "BMC"):
                mark = operands[1].get("/MCID") if name == "BDC" and isinstance(operands[1], pikepdf.Dictionary) else None
                open_marks.append("/Artifact" if str(operands[0]) == "/Artifact" else mark)
            elif name == "EMC" and open_marks:
                open_marks.pop()
            elif (name in SHOW or name == "Do") and "/Artifact" not in open_marks:
                count += 1
                marks = [m for m in open_marks if m is not None]
                last = kinds.get((number, int(marks[-1]))) if marks else last
        if count == 0:
            faults.append(f"page {number + 1} is empty")
        if last in HEADINGS:
            faults.append(f"page {number + 1} ends with a heading")
    return faults


def lines(page):
    """Boxes of the text of a page that stands upright: left, bottom, right, top, text. Drawings are left out."""
    text = page.get_textpage()
    for number in range(pdfium.FPDFText_CountRects(text, 0, -1)):
        left, bottom, right, top = text.get_rect(number)
        words = text.get_text_bounded(left, bottom, right, top).strip()
        if words and 3 < top - bottom < 40:
            yield left, bottom, right, top, words


def layout(path):
    faults = []
    document = pypdfium2.PdfDocument(path)
    for number, page in enumerate(document):
        width, height = page.get_size()
        boxes = list(lines(page))
        for left, bottom, right, top, words in boxes:
            if left < SIDE - SLACK or right > width - SIDE + SLACK or bottom < BOTTOM or top > height - TOP:
                faults.append(f"page {number + 1}: {words[:40]!r} stands in the margin")
        faults += [f"page {number + 1}: {f}" for f in overlaps(boxes)]
        page.close()
    document.close()
    return faults


def nearly_empty(path):
    """Pages whose text and drawings end right under their beginning. The last one ends where the document does: there a
    few lines under a heading are no fault."""
    if Path(path).stem in MAY_BE_EMPTY:
        return []
    faults = []
    document = pypdfium2.PdfDocument(path)
    for number, page in enumerate(document):
        picture = page.render(scale=0.4, grayscale=True)
        ink, stride, height = bytes(picture.buffer), picture.stride, picture.height
        first, last = round(height * HEADER), round(height * FOOTER)
        marked = [y for y in range(first, last) if min(ink[y * stride:y * stride + picture.width]) < 200]
        extent = (max(marked, default=first) - first) / height
        if extent < (FULL if number + 1 < len(document) else LAST):
            faults.append(f"page {number + 1} is nearly empty: {extent:.0%} of its height")
        page.close()
    document.close()
    return faults


def overlaps(boxes):
    """Words that run into others, as from a cell that is too narrow."""
    faults = []
    boxes = sorted(boxes, key=lambda b: b[1])
    for at, one in enumerate(boxes):
        for other in boxes[at + 1:]:
            if other[1] > one[3]:
                break
            wide = min(one[2], other[2]) - max(one[0], other[0])
            high = min(one[3], other[3]) - max(one[1], other[1])
            if wide > 1.2 and high > 0.5 * min(one[3] - one[1], other[3] - other[1]) and one[4] != other[4]:
                faults.append(f"{one[4][:30]!r} runs into {other[4][:30]!r}")
    return faults


def lengths_are_right(data):
    """Whether each stream is as long as it says, read from the bytes themselves."""
    for found in re.finditer(rb"/Length (\d+)(?! \d+ R)[^>]*?>>\s*stream\r?\n", data):
        end = found.end() + int(found[1])
        if not re.match(rb"\r?\n?endstream", data[end:end + 12]):
            return False
    return True


def conformance(path, archive):
    """Faults by PDF/UA-1 and by the PDF/A level that the file claims."""
    with open(path, "rb") as file:
        data = file.read()
    faults = []
    for profile in ("ua1", archive.lower()):
        report = validator.validate_pdf_bytes(data, profile=profile)
        for failure in report.failures:
            # This rule also fires where a compressed stream happens to end in the byte of a line end: the bytes decide.
            if "STREAM-LENGTH" in failure.rule_id and lengths_are_right(data):
                continue
            faults.append(f"{profile} {failure.rule_id}: {failure.message}")
    return faults


def faults(path, pdf, archive):
    return structure(pdf) + pages(pdf) + nearly_empty(path) + layout(path) + conformance(path, archive)
