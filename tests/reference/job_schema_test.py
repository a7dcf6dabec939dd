"""Validates job files against the schema with python3-jsonschema.

usage: job_schema_test.py SCHEMA JOB...
Prints one line for each fault; exit 1 if there is any.
"""

import json
import sys

import jsonschema


def main(schema_path, job_paths):
    with open(schema_path, encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    faults = 0
    for path in job_paths:
        with open(path, encoding="utf-8") as file:
            job = json.load(file)
        for error in validator.iter_errors(job):
            faults += 1
            place = "/" + "/".join(str(step) for step in error.absolute_path)
            print(f"{path}: {place}: {error.message[:200]}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
