"""What happens to bars and offcuts: new states and ledger entries out of old ones, nothing stored here."""
