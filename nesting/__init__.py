"""Stock-length nesting for made-to-measure channel fixtures: least bars, cut plans, proof."""
