"""
Benchmarks: how good the plans are, how they compare, how long they take.

Suites that are kept apart. ``quality`` measures value, bound and proof on published classes;
``peers`` puts other general methods beside ours on shop-like groups; ``speed`` times whole tasks;
``anytime`` checks what a search promises when it is cut short. ``patterns`` and ``stacks`` measure
second goals on published plans. ``smoke`` builds and solves one tiny case of every registered class,
for continuous integration. The service has its own: ``python -m benchmarks.service``.
"""
