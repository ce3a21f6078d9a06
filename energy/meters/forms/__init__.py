"""What a request about meters' files and devices may say."""
