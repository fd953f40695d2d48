"""Validates JSON against a schema with jsonschema, a validator for any schema.

Reads {schema, documents}; prints {open, closed}: for each document the errors by the schema as it
is, and by the same schema made to refuse every key that it does not name.
"""

import copy
import json
import sys

from jsonschema import Draft202012Validator


def close(schema):
    if isinstance(schema, dict):
        if "properties" in schema:
            schema.setdefault("additionalProperties", False)
        for part in schema.values():
            close(part)
    elif isinstance(schema, list):
        for part in schema:
            close(part)


def errors(schema, documents):
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    return [
        [f"{error.json_path}: {error.message[:200]}" for error in validator.iter_errors(document)]
        for document in documents
    ]


asked = json.load(sys.stdin)
closed = copy.deepcopy(asked["schema"])
close(closed)
found = {
    "open": errors(asked["schema"], asked["documents"]),
    "closed": errors(closed, asked["documents"]),
}
json.dump(found, sys.stdout)
