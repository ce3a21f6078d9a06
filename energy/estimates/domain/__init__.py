"""From measured runs to the energy of another meal."""
