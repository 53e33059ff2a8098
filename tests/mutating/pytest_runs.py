"""Pytest in this process: nothing kept, nothing by chance, the tests in the order that we choose."""

import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import hypothesis
import pytest


class Deterministic:
    """A plugin: Hypothesis tries the same examples each time, and does not look for smaller ones."""

    @pytest.hookimpl(trylast=True)
    def pytest_configure(self) -> None:
        tried = (hypothesis.Phase.explicit, hypothesis.Phase.generate)
        settings = hypothesis.settings(derandomize=True, database=None, deadline=None, phases=tried)
        hypothesis.settings.register_profile("mutants", settings)
        hypothesis.settings.load_profile("mutants")


class Ordered:
    """A plugin: only these tests, in this order. `failed` is the first that did."""

    def __init__(self, chosen: Sequence[str]) -> None:
        self.rank = {test: rank for rank, test in enumerate(chosen)}
        self.failed: str | None = None

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted((item for item in items if item.nodeid in self.rank), key=lambda item: self.rank[item.nodeid])

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and self.failed is None:
            self.failed = report.nodeid


def run_pytest(paths: Sequence[Path], *plugins: Any, stop_at_first: bool = True, as_it_is: bool = False) -> int:
    """Run the tests of these files; the answer is pytest's exit code.

    `as_it_is`: no source is changed, so what Python compiles may be found by later runs. Nothing else may.
    """
    sys.dont_write_bytecode = not as_it_is
    arguments = [
        *map(str, paths), "-q", "--tb=short", "-p", "no:cacheprovider", "-p", "no:xdist",
        "-W", "ignore::pytest.PytestAssertRewriteWarning",  # what is imported before the fork is not rewritten
        "-W", "ignore::pytest.PytestUnknownMarkWarning",
        "--basetemp", tempfile.mkdtemp(),
    ]  # fmt: skip
    if stop_at_first:
        arguments.append("-x")
    return int(pytest.main(arguments, plugins=list(plugins)))
