"""What to do about a circuit."""
