"""Second goals against published values: fewest patterns, fewest open stacks."""
