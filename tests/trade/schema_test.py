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

schema = json.loads((models / "workshop.schema.json").read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
validator.validate({})
validator.validate(json.loads((models / "my-workshop.json").read_text(encoding="utf-8")))
for document in [
    {"divider": {"kind": "degrees"}},
    {"divider": {"kind": "plate", "circles": [24]}},
    {"divider": {"kind": "head", "ratio": 90, "circles": [21]}},
]:
    validator.validate(document)
for document in [
    {"lathes": {}},
    {"lathe": {"least": 100}},
    {"lathe": {"most": 100}},
    {"mill": {"steps": [0]}},
    {"boring-bars": [{"reach": 20}]},
    {"grooving-blades": [{"width": 0}]},
    {"parting-blade": 2},
    {"drills": [-2]},
    {"divider": {"ratio": 40, "circles": [24]}},
    {"divider": {"kind": "head", "circles": [24]}},
    {"divider": {"kind": "head", "ratio": 40, "circles": [0]}},
    {"divider": {"kind": "degrees", "circles": [360]}},
    {"stock": [{"metal": "brass"}]},
    {"prices": [{"material": "brass", "price": -3}]},
    {"prices": [{"material": "brass", "price": 3, "per": "kg"}]},
    {"waste-percent": 101},
    {"quote-days": 2.5},
    {"hours": {"sawn": 1}},
    {"hours": {"bored": -1}},
    {"paper": "a3"},
    {"turning-tools": "stone"},
    {"name": ""},
]:
    assert not validator.is_valid(document), document
