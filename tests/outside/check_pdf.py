"""Reads PDFs with pikepdf and prints what a reader of the binder depends on, one JSON object a file.

Usage: check_pdf.py FILE.pdf …
"""
import json
import sys

import pikepdf

from pdf_faults import faults

SHOW = {"Tj", "TJ", "'", '"'}


def body_text(page):
    """Number of text-showing operators that are not part of the running head and foot."""
    count, artifact = 0, [False]
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        if name in ("BDC", "BMC"):
            artifact.append(artifact[-1] or str(operands[0]) == "/Artifact")
        elif name == "EMC" and len(artifact) > 1:
            artifact.pop()
        elif name in SHOW and not artifact[-1]:
            count += 1
    return count


def fonts(pdf):
    """Names of fonts that are not embedded."""
    missing = set()
    for obj in pdf.objects:
        if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/FontDescriptor":
            if not any(key in obj for key in ("/FontFile", "/FontFile2", "/FontFile3")):
                missing.add(str(obj.get("/FontName")))
    return sorted(missing)


def report(path):
    with pikepdf.open(path) as pdf:
        root = pdf.Root
        with pdf.open_metadata() as meta:
            title = meta.get("dc:title", "")
            part = meta.get("pdfuaid:part", "")
            pdfa = meta.get("pdfaid:part", "") + meta.get("pdfaid:conformance", "")
        outline = len(list(pdf.open_outline().root))
        boxes = sorted({tuple(round(float(x)) for x in page.mediabox) for page in pdf.pages})
        return {
            "file": path,
            "pages": len(pdf.pages),
            "tagged": bool(root.get("/MarkInfo", {}).get("/Marked", False)) and "/StructTreeRoot" in root,
            "lang": str(root.get("/Lang", "")),
            "title": str(title),
            "ua": str(part),
            "pdfa": str(pdfa),
            "outline": outline,
            "sizes": [[b[2] - b[0], b[3] - b[1]] for b in boxes],
            "empty_pages": [i + 1 for i, page in enumerate(pdf.pages) if body_text(page) == 0],
            "fonts_missing": fonts(pdf),
            "attached": {name: bytes(spec.get_file().read_bytes()).decode() for name, spec in pdf.attachments.items()},
            "faults": faults(path, pdf, str(pdfa)),
        }


for name in sys.argv[1:]:
    print(json.dumps(report(name)))
