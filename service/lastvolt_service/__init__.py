"""lastvolt's REST service: automotive DC circuit calculations."""
