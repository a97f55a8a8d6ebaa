"""What else could be bought, ordered together or cut apart, and what each would cost."""
