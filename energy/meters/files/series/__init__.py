"""From columns to one series of watts, counter and charge in its units."""
