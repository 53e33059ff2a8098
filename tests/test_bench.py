"""Every benchmark still runs, over little. How fast is for `bash tests/bench/run` to say: a machine is noisy."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
BENCHES = sorted(path.stem for path in (ROOT / "tests" / "bench").glob("bench_*.py"))
CLAIM = re.compile(r"^\S.* +-?\d+\.\d{3} +[<>]=[\d.]+ (ok|over)$")


@pytest.mark.parametrize("bench", BENCHES)
def test_it_runs_and_prints_its_ratios(bench: str) -> None:
    command = [sys.executable, "-W", "error", "-m", f"tests.bench.{bench}", "--small"]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert answer.returncode == 0, answer.stderr
    claims = [line for line in answer.stdout.splitlines() if not line.startswith("#")]
    assert claims
    assert [line for line in claims if not CLAIM.match(line)] == []


def test_a_ratio_over_its_target_fails_where_it_is_measured() -> None:
    over = (
        "import sys; from tests.bench.ratios import *; sys.exit(closing([at_most('slow', 3, 2), at_least('x', 3, 2)]))"
    )
    answers = [
        subprocess.run([sys.executable, "-c", over, *small], cwd=ROOT, capture_output=True, text=True)
        for small in ([], ["--small"])
    ]
    assert [answer.returncode for answer in answers] == [1, 0]
    assert all(re.search(r"^slow +3\.000 +<=2 over\nx +3\.000 +>=2 ok$", answer.stdout, re.M) for answer in answers)
