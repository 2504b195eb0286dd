"""What programs may ask, by subject; each file has its `ROUTES`."""
