"""Tops as pieces of stone: what is published about them, what they weigh, who carries them."""
