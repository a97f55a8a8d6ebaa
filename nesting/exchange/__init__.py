"""JSON: the request and plan documents and their schemas."""
