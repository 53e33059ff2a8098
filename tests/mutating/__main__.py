"""`python -m tests.mutating PACKAGE`: small seeded changes, each met by the package's mirrored folder of tests."""

import argparse
import importlib
import sys
import tempfile
import time
import warnings
from dataclasses import dataclass
from pathlib import Path

from tests.mutating.drawing import drawn
from tests.mutating.explained import Explanation, explains, explanations
from tests.mutating.forked import in_a_child
from tests.mutating.recording import Recording, record
from tests.mutating.trial import Trial, tried, untouched

PACKAGES = ["planning", "layouts", "record", "acts", "store", "words"]
BAR = 0.85  # of the changes that count, how many a test must notice


@dataclass(frozen=True)
class Asked:
    """What the command line asks for. `folder`: whose packages; its tests are in `tests/<package>`."""

    root: Path
    folder: str
    count: int
    seed: int
    told: list[Explanation]


def main() -> int:
    """Go through the packages; the exit status is 1 where one stays below the bar."""
    options = _options()
    asked = Asked(Path.cwd(), options.folder, options.count, options.seed, explanations())
    worst = 0
    with tempfile.TemporaryDirectory(prefix="compiled-") as folder:
        sys.pycache_prefix = folder  # compiled once for all changes, and not into the tree
        for package in options.package or PACKAGES:
            worst = max(worst, _one_package(package, asked))
            if worst and not options.keep_going:
                break
    return worst


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="bash tests/mutants", description=__doc__)
    parser.add_argument(
        "package", nargs="*", help=f"a package, or a group or module of it (default: {' '.join(PACKAGES)})"
    )
    parser.add_argument("--count", type=int, default=100, help="changes a package (default: 100)")
    parser.add_argument("--seed", type=int, default=1, help="another seed, other changes (default: 1)")
    parser.add_argument(
        "--keep-going", action="store_true", help="go on to the next package where one is below the bar"
    )
    parser.add_argument("--folder", default="portal", help="where the packages are (default: portal)")
    return parser.parse_args()


def _one_package(package: str, asked: Asked) -> int:
    started = time.monotonic()
    sources, tests = _paths(package, asked)
    _say(f"{package}: which test runs which line ...")
    recorded = in_a_child(lambda: record(sources, tests, asked.root), 3600)
    recording: Recording | None = recorded.answer
    if recording is None or not recording.passed:
        print(recorded.said, f"{package}: its tests do not pass as it is", sep="\n")
        return 1
    _import_what_others_made(recording.modules)
    passed, said = untouched(recording, asked.root)
    if not passed:
        print(said, f"{package}: its tests pass in their order, not with the quickest first", sep="\n")
        return 1
    return _judged(package, _trials(sources, recording, asked), time.monotonic() - started, asked)


def _paths(package: str, asked: Asked) -> tuple[list[Path], Path]:
    below = asked.root / asked.folder / package
    sources = [below.with_suffix(".py")] if below.with_suffix(".py").is_file() else sorted(below.rglob("*.py"))
    tests = asked.root / "tests" / Path(package).parts[0]
    if not sources or not tests.is_dir():
        sys.exit(f"There is no {asked.folder}/{package} with tests in tests/{Path(package).parts[0]}.")
    return sources, tests


def _import_what_others_made(modules: list[str]) -> None:
    """Once here instead of once a change. A module that can't be imported by itself is left to whoever imports it."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for name in modules:
            try:
                importlib.import_module(name)
            except Exception:
                continue


def _trials(sources: list[Path], recording: Recording, asked: Asked) -> list[Trial]:
    trials = []
    for spot, change in drawn(sources, recording, asked.count, asked.seed):
        trial = tried(change, spot.lines, recording, asked.root)
        trials.append(trial)
        where = f"{change.path.relative_to(asked.root)}:{change.line}"
        _say(f"{len(trials)} of {asked.count}: {where}: {trial.by or 'SURVIVED'}")
        if trial.by is None:
            _print_survivor(trial, where, asked)
    return trials


def _print_survivor(trial: Trial, where: str, asked: Asked) -> None:
    explanation = explains(asked.told, trial.change, asked.root)
    print(f"{where}\n    {trial.change.before}\n    -> {trial.change.after}")
    if explanation:
        print(f"    explained: {explanation.why}")
    sys.stdout.flush()


def _judged(package: str, trials: list[Trial], seconds: float, asked: Asked) -> int:
    killed = sum(trial.by is not None for trial in trials)
    explained = sum(trial.by is None and explains(asked.told, trial.change, asked.root) is not None for trial in trials)
    count = len(trials) - explained
    also = f" ({explained} more explained)" if explained else ""
    print(f"{package}: killed {killed} of {count}{also}, seed {asked.seed}, {seconds / 60:.1f} minutes", flush=True)
    return int(killed < BAR * count)


def _say(progress: str) -> None:
    print(progress, file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())
