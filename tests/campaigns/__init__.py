"""Long trials of the real process, whose short forms are tests and long ones benchmarks."""
