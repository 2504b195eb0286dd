"""What the readings point to: causes weighed against each other, what they cannot show, the test that comes next."""
