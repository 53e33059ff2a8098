"""An invented house, told through the same acts that the skins use."""
