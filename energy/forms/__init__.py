"""What a request about energy may say. Nothing here saves."""
