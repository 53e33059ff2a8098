"""Our mail to one person: stop it, or begin it again. Reached from the foot of each letter, and from their own page."""

from portal.pages.environment import render
from portal.store.facts import FirmFact, ProjectFact
from portal.words.dates import when_words


def render_mail(
    firm: FirmFact, project: ProjectFact, stopped_at: int | None, comes_back: str, home: str = ""
) -> str:
    """`stopped_at`: since when they want none; `home`: the way to their own page, where there is one."""
    if stopped_at is not None:
        title = "Our mail to you is stopped"
        since = when_words(stopped_at, project.timezone)
        said = [f"Since {since} we write you no mail.",
                "We call you instead: for each question, each reminder, each visit that moves.",
                "Your receipts are on your page."]
    else:
        title = "Our mail to you"
        said = ["We write when we need your answer, when a visit moves, and with the receipt of each approval.",
                "If you stop it, we call you instead. Your page stays as it is."]
        if comes_back:
            said.append(f"Our last mail to you came back: {comes_back.rstrip('.')}. If your address is right again, "
                        "press the button.")
    return render(
        "mail.html", firm, title=title, project=project, sentences=said, stopped=stopped_at is not None,
        comes_back=comes_back, home=home,
    )
