"""Judges design files by the project's JSON Schema with an implementation that is not ours (python3-jsonschema).

validate.py SCHEMA --samples FOLDER    every FOLDER/*.ring.json keeps the schema
validate.py SCHEMA --verdicts FILE     each line {"text": "...", "accepted": true|false} is judged as `accepted` says
"""

import json
import pathlib
import sys

import jsonschema


def main(schema_file, mode, place):
    schema = json.loads(pathlib.Path(schema_file).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    wrong = []
    if mode == "--samples":
        files = sorted(pathlib.Path(place).glob("*.ring.json"))
        if len(files) < 5:
            wrong.append(f"only {len(files)} samples in {place}")
        for file in files:
            errors = validator.iter_errors(json.loads(file.read_text(encoding="utf-8")))
            wrong += [f"{file.name}: {error.json_path}: {error.message}" for error in errors]
    elif mode == "--verdicts":
        lines = pathlib.Path(place).read_text(encoding="utf-8").splitlines()
        for line in lines:
            case = json.loads(line)
            if validator.is_valid(json.loads(case["text"])) != case["accepted"]:
                wrong.append(f"the reader says accepted = {case['accepted']}, the schema not: {case['name']}")
        if not lines:
            wrong.append("no verdicts to compare")
    else:
        wrong.append(f"{mode} is not known")
    print("\n".join(wrong))
    return 1 if wrong else 0


sys.exit(main(*sys.argv[1:]))
