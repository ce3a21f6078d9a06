"""Heat and water: what food, pot and air take up to the boil. Pure physics."""
