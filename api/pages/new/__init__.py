"""New plan: a list is dropped, read, corrected and set going."""
