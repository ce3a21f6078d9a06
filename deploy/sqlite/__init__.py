"""Django's SQLite backend, with turns: writers wait in a queue of the kernel's and not by trying again and again."""
