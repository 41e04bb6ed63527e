"""Networks of wires, contacts, sources, loads and relays: compiled once, solved for many values."""
