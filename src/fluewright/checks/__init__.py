"""Published values, shipped with the program, so that an installed copy can prove itself: data, runner, adapters."""
