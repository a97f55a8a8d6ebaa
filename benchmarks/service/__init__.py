"""The service under load, in crowds, and killed at any moment; run with ``python -m benchmarks.service``."""
