"""Kinds of appliance as data: where to sample, what a reading is worth there, what to prove, what never to advise."""
