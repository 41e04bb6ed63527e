"""Fuses: what a load asks of one, and what the wire behind it bears."""
