"""What has to be said to the operating system so that a rename survives a power loss."""

import os
from pathlib import Path


def sync_folder(folder: Path) -> None:
    """The names in this folder are on the disk when this returns."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
