"""
Benchmarks: how good the plans are, how they compare, how long they take.

Three suites that are kept apart. ``quality`` measures value, bound and proof on published classes;
``peers`` puts other general methods beside ours on shop-like groups; ``speed`` times whole tasks.
``smoke`` builds and solves one tiny case of every registered class, for continuous integration.
"""
