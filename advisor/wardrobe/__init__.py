"""The wardrobe: garments that are owned and wished for, and where it has gaps."""
