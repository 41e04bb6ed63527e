"""Relays: their coils and their contacts."""
