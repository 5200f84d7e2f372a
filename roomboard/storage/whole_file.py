"""Files written all at once: the old one stands until the new one is safe."""

import os
import tempfile
from errno import EISDIR
from pathlib import Path


class NotSavedError(Exception):
    """The project could not be saved; its text is one sentence, and the old file still stands."""


def write_whole(path: Path, content: bytes) -> None:
    """Write a file all at once: the old one stands until the new one is safely on the disk.

    Raises:
        NotSavedError: If it cannot be written there; an old file is left as it was.
    """
    temporary = ""
    try:
        target = Path(os.path.realpath(path))
        if target.is_dir():
            raise IsADirectoryError(EISDIR, "it is a folder")
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name[:40]}-", dir=target.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(temporary).chmod(_mode_for(target))
        Path(temporary).replace(target)
    except (OSError, ValueError) as error:
        if temporary:
            Path(temporary).unlink(missing_ok=True)
        reason = getattr(error, "strerror", None) or str(error)
        raise NotSavedError(
            f"{path} was not written ({reason}); check its folder, your rights and the free space."
        ) from None


def _mode_for(target: Path) -> int:
    """Return the rights of the file to be replaced, or those of any new file."""
    try:
        return target.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask
