"""What a device sends."""
