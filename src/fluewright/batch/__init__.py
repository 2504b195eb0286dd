"""The kernel over whole columns: a year of readings, a fleet, a grid for a drawing. numpy is loaded when called."""
