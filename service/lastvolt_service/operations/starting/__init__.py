"""What happens from the turn of the key until the engine runs."""
