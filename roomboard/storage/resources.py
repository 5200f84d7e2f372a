"""The one reader of ``resources/``: practice packs, stock, fonts, schemas and the demo project.

In a checkout the folder stands beside the package; in an installed wheel it lies inside it. Nobody
else needs to know which.
"""

from functools import cache
from pathlib import Path

import roomboard

_MARK = "practice"  # a folder called resources counts as ours only if it holds the practice packs


class ResourceMissingError(FileNotFoundError):
    """A file that belongs to the program itself is not where it should be."""


@cache
def resource_folder() -> Path:
    """Return the folder that holds all resources.

    Raises:
        ResourceMissingError: If neither the installed package nor the checkout has it.
    """
    package = Path(roomboard.__file__).resolve().parent
    for candidate in (package / "resources", package.parent / "resources"):
        if (candidate / _MARK).is_dir():
            return candidate
    raise ResourceMissingError(
        f"The resources of roomboard are missing beside {package}: install it again."
    )


def resource_path(*parts: str) -> Path:
    """Return the path of one resource, e.g. ``resource_path("fonts", "LICENSE")``.

    Args:
        parts: Folder names and file name, from the resources folder down.

    Raises:
        ResourceMissingError: If there is no such file or folder.
    """
    path = resource_folder().joinpath(*parts)
    if not path.exists():
        raise ResourceMissingError(
            f"The resource {'/'.join(parts)} is missing from {resource_folder()}: "
            "install roomboard again."
        )
    return path


def resource_text(*parts: str) -> str:
    """Return the text (UTF-8) of one resource.

    Args:
        parts: Folder names and file name, from the resources folder down.

    Raises:
        ResourceMissingError: If there is no such file.
    """
    return resource_path(*parts).read_text(encoding="utf-8")


def resource_files(folder: str, suffix: str) -> tuple[Path, ...]:
    """Return the files of one resource folder whose names end in ``suffix``, sorted by name.

    Args:
        folder: Name of the folder, e.g. ``"practice"``.
        suffix: Ending of the wanted names, e.g. ``".toml"``.

    Raises:
        ResourceMissingError: If there is no such folder.
    """
    found = (path for path in resource_path(folder).iterdir() if path.name.endswith(suffix))
    return tuple(sorted(found, key=lambda path: path.name))
