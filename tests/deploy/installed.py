"""The portal as a wheel in an environment of its own, which sees the tests' libraries: nothing is downloaded."""

import subprocess
import sys
import venv
from pathlib import Path

from tests.deploy.site import CHECKOUT


def make_environment(folder: Path) -> Path:
    """An environment that has the libraries of this one, and no portal of its own; returns its Python."""
    venv.create(folder, with_pip=False)
    (site_packages,) = folder.glob("lib/python*/site-packages")
    # A line in a .pth file makes a folder visible without reading the .pth files in it: so no checkout comes along.
    libraries = [path for path in sys.path if path.endswith("site-packages")]
    (site_packages / "libraries.pth").write_text("\n".join(libraries))
    return folder / "bin/python"


def build(source: Path, folder: Path, kind: str) -> Path:
    """The `wheel` or `sdist` of the sources."""
    run(sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", folder, cwd=source)
    (built,) = folder.iterdir()
    return built


def install(python: Path, *what: str | Path) -> None:
    """`pip install` into the environment of this Python, from what lies here."""
    pip = (sys.executable, "-m", "pip", "--python", python, "install")
    run(*pip, "--quiet", "--no-index", "--no-deps", "--no-build-isolation", *what, cwd=python.parent)


def run(*command: str | Path, cwd: Path = CHECKOUT) -> str:
    done = subprocess.run([*map(str, command)], cwd=cwd, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, f"{command}:\n{done.stdout}{done.stderr}"
    return done.stdout
