"""Holds the JSON Schema of the maker's materials against the example and against the built-in data files."""

import json
import pathlib
import sys

import jsonschema

models, data = (pathlib.Path(argument) for argument in sys.argv[1:3])
schema = json.loads((models / "catalogue.schema.json").read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)

good = [models / "my-materials.json", *sorted(data.glob("*.json"))]
assert len(good) == 5, good
for file in good:
    validator.validate(json.loads(file.read_text(encoding="utf-8")))

bad = [
    {"metal": []},
    {"metals": [{}]},
    {"metals": [{"id": "Brass"}]},
    {"metals": [{"id": "brass", "density": -1}]},
    {"metals": [{"id": "brass", "density": {"value": 8}}]},
    {"metals": [{"id": "brass", "reflectance": [1, 1, 2]}]},
    {"fillers": [{"id": "turquoise", "glows": 1}]},
    {"gems": [{"id": "ruby", "hardness": 9}]},
    {"metals": [{"id": "brass", "precious": "tin"}]},
    {"metals": [{"id": "brass", "lead": None}]},
]
for document in bad:
    assert not validator.is_valid(document), document

schema = json.loads((models / "limits.schema.json").read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
validator.validate(json.loads((models / "my-limits.json").read_text(encoding="utf-8")))
for document in [
    {"limit": []},
    {"limits": [{"rule": "floor-wall"}]},
    {"limits": [{"limit": 1}]},
    {"limits": [{"rule": "floor-wall", "limit": "1"}]},
    {"limits": [{"rule": "floor-wall", "limit": 1, "unit": "mm"}]},
    {"tolerance-class": "exact"},
    {"region": "moon"},
    {"tolerances": [{"field": "band.width"}]},
    {"tolerances": [{"field": "band.width", "tolerance": -1}]},
]:
    assert not validator.is_valid(document), document
