"""What stands in and beside the pictures of forms: lettering, the titles of lists and of folds."""

_UNIT = "Each length with its unit, such as 1-3/8 in or 35 mm."
SEEN = {
    "above": f"From above, not to scale. {_UNIT}",
    "front": f"From the front, not to scale. {_UNIT}",
    "above and side": f"From above, and its edge from the side; not to scale. {_UNIT}",
}

LETTERS = {one: one for one in (
    "wall", "sink", "to edge", "cut-out", "left side", "right side", "cabinet", "window", "left, inside",
    "right, inside", "floor", "height", "from the floor", "from the left end", "cabinets below", "reaches out",
    "across", "thickness", "slab", "eyes", "mirror", "counter", "ceiling", "tap", "splash",
)}  # fmt: skip

LISTS = {
    "top": "Top", "sink": "Sink", "faucet": "Faucet", "also": "Also offer", "shop": "Stone shop’s limits",
    "front": "First front", "pull": "Pull", "front limits": "Limits of the fronts’ maker", "slab": "Slab",
    "maker limits": "What the top’s maker allows", "brackets": "Brackets", "mirror": "Mirror", "lamp": "Lamps",
}  # fmt: skip

FOLDS = {
    "sink": "The sink’s sizes", "faucet": "The faucet’s sizes", "also": "Sizes of what else is offered",
    "shop": "The shop’s limits", "least radius": "The shop’s least radius", "clips": "Room for the sink’s clips",
    "material": "The top’s material", "front": "More of the first front", "pull": "The pull’s sizes",
    "front limits": "The fronts’ maker’s limits", "maker limits": "The top’s maker’s limits",
    "brackets": "The brackets’ sizes", "slab": "The slab’s sizes", "mirror": "The mirror’s sizes",
    "lamp": "The lamps’ sizes", "thickness and splash": "Thickness and splash", "holes there": "Holes there already",
    "more beside": "More beside the faucet", "below": "Bowls, and what hangs below",
    "where it goes": "Where it goes, and where we measure from", "datum": "Where we measure from",
    "free counter": "The free counter around the sink", "other fronts": "The other fronts", "doors": "On doors",
    "wide drawers": "Wide drawers", "inside corners": "Inside corners", "fastening": "Fastening and edges",
    "seats": "Seats, and the load on the edge", "fixings": "Gables and studs for brackets", "aisles": "Aisles",
    "thickness": "Thickness and material", "other cut-outs": "The other cut-outs", "dishwasher": "A dishwasher below",
    "seam wanted": "A seam that somebody would like", "limits": "Least distances",
    "wall and seat": "The wall, and room to sit", "others there": "Who else stands there",
    "window and tub": "A window or a tub near it",
}  # fmt: skip
