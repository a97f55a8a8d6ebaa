"""The ledger of stock movements."""
