"""Reads a YAML file with PyYAML and prints it as JSON, days as ISO 8601 writes them.

    python yaml_as_json.py FILE.yaml
"""

import json
import sys

import yaml

with open(sys.argv[1], encoding="utf-8") as file:
    json.dump(yaml.safe_load(file), sys.stdout, default=str)
