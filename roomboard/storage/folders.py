"""Several files of one export, written into a folder of their own."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from roomboard.storage.whole_file import NotSavedError, write_whole


def write_folder(folder: Path, contents: Mapping[str, bytes]) -> None:
    """Write files into a folder, which is made if it is not there.

    Args:
        folder: The folder.
        contents: What each file holds, by its name.

    Raises:
        NotSavedError: If it cannot be written there, or if it has files of the same kind that
            are not of this export: they would be taken for parts of it.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        endings = {Path(name).suffix for name in contents}
        strange = sorted(
            p.name for p in folder.iterdir() if p.suffix in endings and p.name not in contents
        )
    except OSError as error:
        raise NotSavedError(f"{folder} cannot be used ({error.strerror}).") from None
    if strange:
        raise NotSavedError(
            f"the folder {folder} has {strange[0]}, which is not of this export; take it out, or "
            "choose another name."
        )
    for name, content in contents.items():
        write_whole(folder / name, content)
