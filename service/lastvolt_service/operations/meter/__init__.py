"""What a meter tells of a live circuit."""
