"""Opens tables with pandas and openpyxl, which share no code with what writes them.

Reads {csv: path, xlsx: path}; prints {csv: table, sheets: {name: table}, workbook: facts}. A table
is {heads, types, rows}; a type is the column's dtype, a row maps heads to values. Facts are what
pandas does not tell: frozen panes, kinds of cells, number formats, widths, properties.

Only cells without anything in them are missing: a note that reads "NA" is a note.
"""

import json
import sys

import openpyxl
import pandas

ONLY_EMPTY = {"keep_default_na": False, "na_values": [""]}


def table(frame):
    plain = frame.astype(object).where(frame.notna(), None)
    return {
        "heads": list(frame.columns),
        "types": {head: str(dtype) for head, dtype in frame.dtypes.items()},
        "rows": plain.to_dict("records"),
    }


def facts(workbook):
    properties = workbook.properties
    return {
        "created": properties.created.isoformat(),
        "modified": properties.modified.isoformat(),
        "creator": properties.creator,
        "last_modified_by": properties.lastModifiedBy,
        "sheets": {
            sheet.title: {
                "frozen": sheet.freeze_panes,
                "widths": [sheet.column_dimensions[c[0].column_letter].width for c in sheet.columns],
                # n number, s string, f formula, e error, b boolean, d date
                "kinds": [[c.data_type for c in row if c.value is not None] for row in sheet.rows],
                "formats": [[c.number_format for c in row] for row in sheet.rows],
                "values": [[c.value for c in row] for row in sheet.rows],
            }
            for sheet in workbook.worksheets
        },
    }


asked = json.load(sys.stdin)
sheets = pandas.read_excel(asked["xlsx"], sheet_name=None, engine="openpyxl", **ONLY_EMPTY)
found = {
    "csv": table(pandas.read_csv(asked["csv"], **ONLY_EMPTY)),
    "sheets": {name: table(frame) for name, frame in sheets.items()},
    "workbook": facts(openpyxl.load_workbook(asked["xlsx"])),
}
json.dump(found, sys.stdout)
