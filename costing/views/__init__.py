"""The bench pages of the costing app."""
