"""Opens PDF files with pikepdf (qpdf), which shares no code with what sets them, and prints what
a reader program finds in them: structure, language, titles, fonts, actions, metadata.

Reads {files: [path]}; prints one object a file. The judging is done by who asks.
"""

import json
import sys

import pikepdf

# Operators that put something on the page (ISO 32000-1, annex A).
PAINTING = set("S s f F f* B B* b b* sh Do Tj TJ ' \" INLINE IMAGE".split())
# Keys of actions that leave the page (ISO 32000-1, 12.6) or bring files along (7.11).
ACTIVE_KEYS = {"/AA", "/OpenAction", "/JS", "/EmbeddedFiles", "/EF", "/XFA", "/AcroForm"}
ACTIVE_KINDS = {"/JavaScript", "/Launch", "/URI", "/GoToR", "/GoToE", "/SubmitForm", "/ImportData",
                "/Movie", "/Sound", "/Rendition", "/Named"}


def text(value):
    return None if value is None else str(value)


def walk(node, roles, parents, found):
    """Collects the structure tree in reading order (ISO 32000-1, 14.7.2)."""
    if isinstance(node, pikepdf.Array):
        for kid in node:
            walk(kid, roles, parents, found)
        return
    if not isinstance(node, pikepdf.Dictionary) or "/S" not in node:
        return
    kind = str(node.S)
    kind = str(roles.get(kind, kind))
    attributes = node.get("/A", [])
    attributes = attributes if isinstance(attributes, pikepdf.Array) else [attributes]
    scope = next((str(a.Scope) for a in attributes if "/Scope" in a), None)
    found.append({"kind": kind[1:], "parents": parents, "alt": text(node.get("/Alt")),
                  "scope": scope[1:] if scope else None})
    if "/K" in node:
        walk(node.K, roles, [*parents, kind[1:]], found)


def unmarked(page):
    """Painting operators outside any marked content: neither tagged nor an artifact."""
    depth, loose = 0, 0
    for operands, operator in pikepdf.parse_content_stream(page):
        operator = str(operator)
        if operator in ("BDC", "BMC"):
            depth += 1
        elif operator == "EMC":
            depth -= 1
        elif operator in PAINTING and depth == 0:
            loose += 1
    assert depth == 0, "marked content is not closed"
    return loose


def fonts(pdf):
    """Every font of the file, and whether its glyphs and their letters come with it."""
    listed = []
    for thing in pdf.objects:
        if not isinstance(thing, pikepdf.Dictionary) or thing.get("/Type") != "/Font":
            continue
        if thing.get("/Subtype") == "/Type3":
            listed.append({"name": "Type3", "embedded": True, "letters": "/ToUnicode" in thing})
        elif thing.get("/Subtype") == "/Type0":
            descriptor = thing.DescendantFonts[0].FontDescriptor
            listed.append({
                "name": str(thing.BaseFont),
                "embedded": any(f"/FontFile{n}" in descriptor for n in ("", 2, 3)),
                "letters": "/ToUnicode" in thing,
            })
        elif "/FontDescriptor" not in thing:
            listed.append({"name": str(thing.get("/BaseFont")), "embedded": False, "letters": False})
    return listed


def active(pdf):
    found = set()

    def look(thing, depth):
        if isinstance(thing, pikepdf.Dictionary):
            found.update(key for key in thing.keys() if key in ACTIVE_KEYS)
            if str(thing.get("/S", "")) in ACTIVE_KINDS and thing.get("/Type") != "/StructElem":
                found.add(str(thing.S))
        if depth < 6 and isinstance(thing, (pikepdf.Dictionary, pikepdf.Array)):
            kids = thing.values() if isinstance(thing, pikepdf.Dictionary) else thing
            for kid in kids:
                if not getattr(kid, "is_indirect", False):
                    look(kid, depth + 1)

    for thing in pdf.objects:
        look(thing, 0)
    return sorted(found)


def facts(path):
    with pikepdf.open(path) as pdf:
        root = pdf.Root
        tree = root.get("/StructTreeRoot", {})
        structure = []
        walk(tree.get("/K", pikepdf.Array()), dict(tree.get("/RoleMap", {})), [], structure)
        info = {key: str(value) for key, value in pdf.docinfo.items()}
        with pdf.open_metadata(set_pikepdf_as_editor=False) as xmp:
            meta = {key: value if isinstance(value, (str, list)) else str(value)
                    for key, value in xmp.items()}
        preferences = root.get("/ViewerPreferences", {})
        return {
            "version": pdf.pdf_version,
            "problems": [str(problem) for problem in pdf.check_pdf_syntax()],
            "marked": bool(root.get("/MarkInfo", {}).get("/Marked", False)),
            "lang": text(root.get("/Lang")),
            "title_shown": bool(preferences.get("/DisplayDocTitle", False)),
            "info": info,
            "xmp": meta,
            "structure": structure,
            "fonts": fonts(pdf),
            "active": active(pdf),
            "pages": [
                {
                    "media": [float(x) for x in page.mediabox],
                    "crop": [float(x) for x in page.cropbox],
                    "unmarked": unmarked(page),
                    "tabs": text(page.obj.get("/Tabs")),
                    "annotations": len(page.obj.get("/Annots", [])),
                }
                for page in pdf.pages
            ],
            "outline": "/Outlines" in root and "/First" in root.Outlines,
        }


json.dump([facts(path) for path in json.load(sys.stdin)["files"]], sys.stdout)
