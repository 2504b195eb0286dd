"""Finding numbers that no formula gives at once: several readings made to agree, weighed by their doubt."""
