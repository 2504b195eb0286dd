"""A virtual appliance from physics, for the demonstration, for training and for tests. Its numbers are invented."""
