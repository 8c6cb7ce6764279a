"""Holds case files against the JSON Schema.

usage: schema_check.py SCHEMA LIST
LIST is a JSON list of {name, text, accept}. Exit code 0: the schema says of every text what `accept` says; 1: it does
not; 77: a module is missing.
"""
import json
import re
import sys

try:
    import jsonschema
    import yaml
except ImportError as missing:
    print(f"skipped: {missing}")
    sys.exit(77)


class CoreLoader(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):
    """YAML 1.2 as editors read it: `yes` and `on` are text, 010 is a number, 2020-01-01 no date."""


CoreLoader.yaml_implicit_resolvers = {}
for tag, pattern, first in (
        ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
        ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
        ("int", r"[-+]?[0-9]+", "-+0123456789"),
        ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", "-+.0123456789")):
    CoreLoader.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{pattern})$"), list(first))
CoreLoader.add_constructor("tag:yaml.org,2002:int", lambda loader, node: int(node.value))
CoreLoader.add_constructor("tag:yaml.org,2002:float", lambda loader, node: float(node.value))


def main(schema_path, list_path):
    with open(schema_path, encoding="utf-8") as stream:
        schema = json.load(stream)
    with open(list_path, encoding="utf-8") as stream:
        cases = json.load(stream)
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    wrong = 0
    unread = 0
    for case in cases:
        try:
            document = yaml.load(case["text"], CoreLoader)
        except yaml.YAMLError:  # this parser is stricter in places, about tabs before comments for one
            unread += 1
            continue
        error = jsonschema.exceptions.best_match(validator.iter_errors(document))
        if (error is None) == case["accept"]:
            continue
        wrong += 1
        said = "accepts" if error is None else f"refuses at {list(error.absolute_path)}: {error.message[:300]}"
        print(f"{case['name']}: the schema {said}")
    accepted = sum(case["accept"] for case in cases)
    print(f"{accepted} files to be accepted, {len(cases) - accepted} to be refused, {wrong} wrong, {unread} not read here")
    return 1 if wrong or unread > len(cases) // 20 else 0


sys.exit(main(sys.argv[1], sys.argv[2]))
