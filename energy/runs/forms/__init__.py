"""What a request about runs may say. Nothing here saves."""
