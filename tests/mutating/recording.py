"""Which test runs which line, and how long each takes: asked once, of the package as it is."""

import functools
import sys
import time
from collections.abc import Generator, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from coverage import Coverage

from tests.mutating.pytest_runs import Deterministic, run_pytest

IMPORTING = ""  # the context of what runs before any test: whatever follows from it, every test may see


@dataclass
class Recording:
    """`tests_of[path][line]` are the tests that run it, by node id, or IMPORTING; `seconds` what each took."""

    tests_of: dict[str, dict[int, list[str]]] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)
    modules: list[str] = field(default_factory=list)  # imported from elsewhere: worth having before a fork
    passed: bool = False


def record(sources: list[Path], tests: Path, root: Path) -> Recording:
    """Run these tests once and say what they ran. Imports the package: call it in a child."""
    coverage = Coverage(data_file=None, include=[str(path) for path in sources], config_file=False)
    recorder = _Recorder(coverage, root)
    coverage.start()
    code = run_pytest([tests], recorder, Deterministic(), stop_at_first=False, as_it_is=True)
    coverage.stop()
    return Recording(_lines(coverage, recorder), recorder.seconds, _from_elsewhere(root), code == pytest.ExitCode.OK)


class _Recorder:
    """A plugin of pytest: each test, and each fixture that several tests share, has a context of its own."""

    def __init__(self, coverage: Coverage, root: Path) -> None:
        self.coverage = coverage
        self.root = root
        self.context = IMPORTING
        self.seconds: dict[str, float] = {}
        self.users: dict[str, set[str]] = {}  # shared fixture -> tests that have it in their closure

    @contextmanager
    def _within(self, context: str) -> Iterator[None]:
        before, self.context = self.context, context
        self.coverage.switch_context(context)
        try:
            yield
        finally:
            self.context = before
            self.coverage.switch_context(before)

    @pytest.hookimpl(wrapper=True, tryfirst=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, Any, Any]:
        _forget_what_is_cached(self.root)
        for fixtures in item._fixtureinfo.name2fixturedefs.values():  # type: ignore[attr-defined]
            for fixture in fixtures:
                if fixture.scope != "function":
                    self.users.setdefault(_named(fixture), set()).add(item.nodeid)
        started = time.perf_counter()
        with self._within(item.nodeid):
            answer = yield
        self.seconds[item.nodeid] = time.perf_counter() - started
        return answer

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any) -> Generator[None, Any, Any]:
        if fixturedef.scope == "function":
            return (yield)
        with self._within(_named(fixturedef)):
            return (yield)


def _named(fixture: Any) -> str:
    return f"fixture {fixture.baseid}::{fixture.argname}"


def _forget_what_is_cached(root: Path) -> None:
    """Otherwise what several tests need would seem to be run by the first of them only."""
    for module in list(sys.modules.values()):
        if _is_ours(module, root):
            for value in list(vars(module).values()):
                if isinstance(value, functools._lru_cache_wrapper):
                    value.cache_clear()


def _is_ours(module: Any, root: Path) -> bool:
    path = getattr(module, "__file__", None) or ""
    return path.startswith(f"{root}/") and "site-packages" not in path


def _lines(coverage: Coverage, recorder: _Recorder) -> dict[str, dict[int, list[str]]]:
    data = coverage.get_data()
    found: dict[str, dict[int, list[str]]] = {}
    for path in data.measured_files():
        found[path] = {}
        for line, contexts in data.contexts_by_lineno(path).items():
            tests = set[str]()
            for context in contexts:
                tests |= recorder.users.get(context, {context})
            found[path][line] = sorted(tests)
    return found


def _from_elsewhere(root: Path) -> list[str]:
    """Modules of others that the tests needed. Pytest's own plugins are left to pytest."""
    return [
        name
        for name, module in list(sys.modules.items())
        if getattr(module, "__file__", None)
        and not _is_ours(module, root)
        and not name.startswith(("__", "_pytest", "tests", "coverage", "xdist"))
    ]
