"""What a source gives, what a cooker may hold, and how a battery gets its energy back."""
