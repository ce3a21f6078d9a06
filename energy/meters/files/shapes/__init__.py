"""The shapes that a meter's file may have: each a reader with its score and its own sample."""
