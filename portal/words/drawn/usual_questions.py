"""What a drawn question usually asks, by its kind: it stands in the form, and whoever asks changes it."""

from collections.abc import Mapping

USUAL_QUESTIONS: Mapping[str, str] = {
    "deck": "Which holes do we drill behind the sink?",
    "centerline": "On which line does the sink stand?",
    "pulls": "Where do the pulls sit?",
    "overhang": "How far does the top reach out?",
    "seam": "Where does the seam of the stone top go?",
    "vanity": "How high do mirror and lamps hang over the vanity?",
}
