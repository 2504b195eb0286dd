"""What the readings point to: causes weighed against each other, what they cannot show, and the test that comes next."""
