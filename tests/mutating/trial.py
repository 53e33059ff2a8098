"""One change against the tests: served in place of the source, and told killed as soon as one test fails."""

import importlib.util
import signal
import sys
from collections.abc import Generator, Sequence
from dataclasses import dataclass
from importlib.machinery import ModuleSpec, SourceFileLoader
from pathlib import Path
from types import CodeType
from typing import Any

import pytest

from tests.mutating.changes import Change
from tests.mutating.forked import in_a_child
from tests.mutating.pytest_runs import Deterministic, Ordered, run_pytest
from tests.mutating.recording import IMPORTING, Recording

TIMES_AS_LONG = 4  # as it took: more is a loop that does not end
SECONDS_MORE = 5.0
PASSED = "passed"


@dataclass(frozen=True)
class Trial:
    """`by` is the test that noticed the change, or why the run ended; None: no test did."""

    change: Change
    by: str | None


def tried(change: Change, lines: Sequence[tuple[int, int]], recording: Recording, root: Path) -> Trial:
    """Run the tests that may see the change, those that run its lines and are quickest first, until one fails."""
    order = _order(recording, recording.tests_of.get(str(change.path), {}), lines)
    patience = 60 + 20 * sum(recording.seconds.values())  # of wall-clock: a busy machine kills nothing
    outcome = in_a_child(lambda: _run(order, change, recording, root), patience)
    if outcome.answer is None:
        return Trial(change, "the run did not come to an end")
    return Trial(change, None if outcome.answer == PASSED else outcome.answer)


def untouched(recording: Recording, root: Path) -> tuple[bool, str]:
    """Whether the tests pass in this order without a change, as they must before any is judged; what they said."""
    order = _quickest(recording, recording.seconds)
    outcome = in_a_child(lambda: _run(order, None, recording, root), 3600)
    return outcome.answer == PASSED, outcome.said


def _order(recording: Recording, tests_of: dict[int, list[str]], lines: Sequence[tuple[int, int]]) -> list[str]:
    """Those that run the line, then those that run another of its module: they may see what was made there and kept.
    What is done at import may be seen by all."""
    direct = set(tests_running(tests_of, lines))
    same_file = {test for tests in tests_of.values() for test in tests} - direct
    rest = set(recording.seconds) - direct - same_file if IMPORTING in direct or not direct else set[str]()
    return [*_quickest(recording, direct), *_quickest(recording, same_file), *_quickest(recording, rest)]


def tests_running(tests_of: dict[int, list[str]], lines: Sequence[tuple[int, int]]) -> list[str]:
    """Tests that run the innermost of these ranges of lines that was run at all, or IMPORTING."""
    for first, last in lines:
        found = {test for line in range(first, last + 1) for test in tests_of.get(line, ())}
        if found:
            return sorted(found)
    return []


def _quickest(recording: Recording, tests: Any) -> list[str]:
    return sorted((test for test in tests if test != IMPORTING), key=lambda test: (recording.seconds[test], test))


def _run(order: list[str], change: Change | None, recording: Recording, root: Path) -> str:
    if change is not None:
        sys.meta_path.insert(0, _Serving(_module_of(change.path, root), change))
    plugin = Ordered(order)
    files = dict.fromkeys(root / test.partition("::")[0] for test in order)
    code = run_pytest(list(files), plugin, Deterministic(), _Patience(recording.seconds))
    if code == pytest.ExitCode.OK:
        return PASSED
    return plugin.failed or f"pytest ended with {code}"


def _module_of(path: Path, root: Path) -> str:
    parts = path.relative_to(root).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


class _Patience:
    """A plugin: a test that takes many times its time ends the process. Processor time, since others work here, too."""

    def __init__(self, seconds: dict[str, float]) -> None:
        self.seconds = seconds

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, Any, Any]:
        signal.setitimer(signal.ITIMER_PROF, TIMES_AS_LONG * self.seconds[item.nodeid] + SECONDS_MORE)
        try:
            return (yield)
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)


class _Serving:
    """An import hook: one module's code is ours."""

    def __init__(self, name: str, change: Change) -> None:
        self.name = name
        self.change = change

    def find_spec(self, name: str, path: Any = None, target: Any = None) -> ModuleSpec | None:
        if name != self.name:
            return None
        return importlib.util.spec_from_file_location(
            name, self.change.path, loader=_Loader(name, str(self.change.path), self.change.code)
        )


class _Loader(SourceFileLoader):
    def __init__(self, name: str, path: str, code: CodeType) -> None:
        super().__init__(name, path)
        self.code = code

    def get_code(self, fullname: str) -> CodeType:
        return self.code
