"""What bars really cost: packs, price breaks, minimum orders, bars on hand, and the least of it."""
