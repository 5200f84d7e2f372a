"""The whole chain in one call, for tests that ask about its end."""

import json
from functools import cache

from jsonschema import Draft202012Validator

from roomboard.core.project import Project
from roomboard.core.scheme import Scheme, work_out
from roomboard.storage.catalogue import load_catalogue, load_practice
from roomboard.storage.resources import resource_text
from roomboard.storage.scheme_file import scheme_text
from tests.checker import check


@cache
def validator() -> Draft202012Validator:
    schema = json.loads(resource_text("schema", "scheme-1.schema.json"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def worked(project: Project) -> Scheme:
    """Work a project out with the pack and stock it names."""
    return work_out(project, load_catalogue(project.practice), load_practice(project.practice))


def as_data(scheme: Scheme) -> dict:
    """The scheme as a reader of its file sees it."""
    return json.loads(scheme_text(scheme))


def faults_of(data: dict) -> list[str]:
    """Everything wrong with a scheme file: against its schema, then against the trade."""
    against_schema = [
        f"schema: {'/'.join(map(str, error.absolute_path))}: {error.message}"
        for error in validator().iter_errors(data)
    ]
    return against_schema or check(data)
