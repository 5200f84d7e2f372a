"""Resources are found in a checkout and in an installed wheel alike."""

import json
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from roomboard.storage import resources

ROOT = Path(__file__).resolve().parents[2]


def names_below(folder):
    found = (path for path in folder.rglob("*") if path.is_file())
    inside = (path.relative_to(folder) for path in found)
    return sorted(path.as_posix() for path in inside if "__pycache__" not in path.parts)


def test_checkout_reads_the_top_folder():
    assert resources.resource_folder() == ROOT / "resources"


def test_files_of_a_folder_are_sorted_and_of_the_asked_kind():
    packs = resources.resource_files("practice", ".toml")

    assert packs
    assert list(packs) == sorted((ROOT / "resources" / "practice").glob("*.toml"))


def test_text_is_read_as_utf8():
    pack = resources.resource_files("practice", ".toml")[0]

    expected = pack.read_text(encoding="utf-8")
    assert resources.resource_text("practice", pack.name) == expected


def test_a_missing_resource_is_named():
    with pytest.raises(resources.ResourceMissingError, match=r"fonts/no-such-font\.ttf is missing"):
        resources.resource_path("fonts", "no-such-font.ttf")


@pytest.fixture(scope="module")
def unpacked_wheel(tmp_path_factory):
    """The wheel, built from a copy (a build leaves traces) and unpacked into an empty folder."""
    source = tmp_path_factory.mktemp("source")
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source)
    skip = shutil.ignore_patterns("__pycache__")
    for name in ("roomboard", "resources"):
        shutil.copytree(ROOT / name, source / name, ignore=skip)
    wheels = tmp_path_factory.mktemp("wheels")
    flags = ["--quiet", "--no-index", "--no-deps", "--no-build-isolation"]
    command = [sys.executable, "-m", "pip", "wheel", *flags, "-w", str(wheels), str(source)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    [wheel] = wheels.glob("roomboard-*.whl")
    site = tmp_path_factory.mktemp("site")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)
    return site


@pytest.mark.slow
def test_wheel_holds_every_resource_and_module(unpacked_wheel):
    inside = unpacked_wheel / "roomboard"

    held = names_below(inside)
    of_resources = names_below(ROOT / "resources")
    expected = names_below(ROOT / "roomboard") + [f"resources/{name}" for name in of_resources]
    assert of_resources
    assert held == sorted(expected)
    for name in of_resources:
        assert (inside / "resources" / name).read_bytes() == (
            ROOT / "resources" / name
        ).read_bytes()


# Run apart, so that the unpacked wheel and nothing else is what gets imported.
READ_FROM_WHEEL = """
import json, sys
sys.path.insert(0, sys.argv[1])
import importlib.resources
from roomboard.storage import resources
print(json.dumps({
    "folder": str(resources.resource_folder()),
    "packs": [path.name for path in resources.resource_files("practice", ".toml")],
    "text": resources.resource_text("practice", sys.argv[2]),
    "standard": importlib.resources.files("roomboard.resources")
        .joinpath("practice").joinpath(sys.argv[2]).read_text(encoding="utf-8"),
}))
"""


@pytest.mark.slow
def test_wheel_reads_its_own_resources(unpacked_wheel, tmp_path):
    packs = resources.resource_files("practice", ".toml")

    done = subprocess.run(
        [sys.executable, "-c", READ_FROM_WHEEL, str(unpacked_wheel), packs[0].name],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )

    told = json.loads(done.stdout)
    assert Path(told["folder"]) == unpacked_wheel.resolve() / "roomboard" / "resources"
    assert told["packs"] == [path.name for path in packs]
    assert told["text"] == told["standard"] == packs[0].read_text(encoding="utf-8")
