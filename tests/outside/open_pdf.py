"""Opens PDF files with pypdf, which shares no code with what sets them.

Reads {files: [path]}; prints [{pages, size: [width, height] of the first page in points, text}].
"""

import json
import sys

from pypdf import PdfReader

opened = []
for path in json.load(sys.stdin)["files"]:
    pages = PdfReader(path, strict=True).pages
    box = pages[0].mediabox
    opened.append(
        {
            "pages": len(pages),
            "size": [float(box.width), float(box.height)],
            "text": pages[0].extract_text(),
        }
    )
json.dump(opened, sys.stdout)
