"""What a command costs from a cold start; run with --benchmark-enable."""

from __future__ import annotations

import subprocess
import sys

from pytest_benchmark.fixture import BenchmarkFixture

from tests.examples import PLANS

LARGEST = max(PLANS.glob("*.toml"), key=lambda path: path.stat().st_size)


def run(*words: str) -> str:
    done = subprocess.run([sys.executable, *words], capture_output=True, text=True, check=True, timeout=60)
    return done.stdout


def test_python_alone(benchmark: BenchmarkFixture) -> None:
    assert benchmark.pedantic(run, args=("-c", "pass"), rounds=10, warmup_rounds=1) == ""


def test_import_of_the_package(benchmark: BenchmarkFixture) -> None:
    assert benchmark.pedantic(run, args=("-c", "import vanwater"), rounds=10, warmup_rounds=1) == ""


def test_check_of_the_largest_example(benchmark: BenchmarkFixture) -> None:
    words = ("-m", "vanwater", "check", str(LARGEST))
    assert benchmark.pedantic(run, args=words, rounds=10, warmup_rounds=1).count("\n") > 10


def test_one_number_unfolded(benchmark: BenchmarkFixture) -> None:
    words = ("-m", "vanwater", "check", str(LARGEST), "--why", "stay.days")
    assert "days" in benchmark.pedantic(run, args=words, rounds=10, warmup_rounds=1)
