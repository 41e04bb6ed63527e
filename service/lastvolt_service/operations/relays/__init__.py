"""Relays: their coils and contacts, and the switch that they relieve."""
