"""Draft and venting: readings in the flue, pressures of the house, spillage, the worst case, the vent itself."""
