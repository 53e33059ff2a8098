"""An option as a person in the room sees it: from the front, drawn from the layout that is kept with it."""
