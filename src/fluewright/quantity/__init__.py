"""Numbers with meaning: what a quantity is, its units, what people type, how it is shown, how surely it is known."""
