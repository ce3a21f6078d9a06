"""What a request about tariffs may say."""
