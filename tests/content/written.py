"""The files of content/ as a test looks at them: title, summary, body, sections, and the words without marks."""

import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2] / "content"
_LINK = re.compile(r"\[([^\]]*)\]\(([^)\s]*)\)")


@dataclass(frozen=True)
class Written:
    """One Markdown file of content/."""

    path: Path

    @property
    def name(self) -> str:
        return f"{self.path.parent.name}/{self.path.stem}"

    @cached_property
    def text(self) -> str:
        return self.path.read_text(encoding="utf-8")

    @property
    def title(self) -> str:
        return self.text.splitlines()[0].removeprefix("# ")

    @property
    def summary(self) -> str:
        return next((line[2:] for line in self.text.splitlines() if line.startswith("> ")), "")

    @cached_property
    def sections(self) -> dict[str, str]:
        """The text under each `## ` heading; what comes before the first one is under ""."""
        parts = re.split(r"^## (.+)\n", self.text, flags=re.MULTILINE)
        return {"": parts[0]} | {parts[i]: parts[i + 1].strip() for i in range(1, len(parts), 2)}

    @property
    def body(self) -> str:
        """What stands between the summary and the first heading."""
        return "\n".join(self.sections[""].splitlines()[3:]).strip()

    @property
    def links(self) -> list[tuple[str, str]]:
        return _LINK.findall(self.text)

    @property
    def prose(self) -> str:
        """All that is read as sentences. Names of sources are left out: they are looked up, not read."""
        return plain("\n".join(f"{head}\n{text}" for head, text in self.sections.items() if head != "Sources"))

    def items(self, section: str) -> list[str]:
        """The list items of a section."""
        return [line[2:] for line in self.sections[section].splitlines() if line.startswith("- ")]


def plain(markdown: str) -> str:
    """Markdown without its marks: one line a sentence, a list item, a table cell; codes and tables' rules dropped."""
    text = _LINK.sub(r"\1", markdown)
    text = re.sub(r"^ {4}.*$|^\|[-| ]+\|$|`[^`]*`|[*_#>]", "", text, flags=re.MULTILINE)
    return re.sub(r"^ *(?:- |\d+\. )", "", text.replace("|", "\n"), flags=re.MULTILINE)


def written(folder: str = "*") -> list[Written]:
    """All pieces of a folder of content/, or of all folders that hold Markdown."""
    return [Written(path) for path in sorted(ROOT.glob(f"{folder}/*.md"))]
