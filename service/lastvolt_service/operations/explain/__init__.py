"""Steps that are told by hand."""
