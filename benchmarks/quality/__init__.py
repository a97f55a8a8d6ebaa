"""How good the plans are: value, bound and proof on published classes, losing rows included."""
