"""Programs that travel in every export and need nothing but Python: they check it where Fluewright is not."""
