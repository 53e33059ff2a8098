"""Marks that are slow to read when there are many: each alone, and the pairs among which slow ones were found.

Found by `python -m tests.bench.bench_prose --search`, which tries each mark and each pair of them.
"""

from itertools import permutations

MARKS = [
    "a", " ", "\n", "\n\n", "*", "**", "***", "_", "__", "`", "``", "[", "]", "(", ")", "![", "[a]", "[a](", "[a](b",
    "[a](<", '[a](b "', "[a]: b\n", "[a][", "[a]:", "<", "<a ", "<a@b", "<http://", ">", "> ", ">>\n", "# ", "#", "- ",
    "* ", "1. ", "    ", "\t", "  \n", "|", "|-", "| a |\n", "a|b\n-|-\n", "-|", "---\n", "===\n", "&", "&#", "&amp;",
    "\\", "\\*", '"', "'", "!", "{", "}", "-\n-\n", ".", ":", "<!--", "<?", "<![CDATA[", "</", "a*", "*a", "_a", "a_",
    "* a\n    - a\n",
]  # fmt: skip
PAIRS = [one + other for one, other in permutations(MARKS, 2)]
TANGLED = [
    *MARKS, "``\\", "a[", "a![", "[a](b)", "a<![CDATA[", "|\\", "#\\", "\\*\t", "*\\", "\n#", "\n- ", "\n***", " ---\n",
    "[a](\"", "![a](<", "\\[", "\\`",
]  # fmt: skip


def repeated(unit: str, length: int) -> str:
    return (unit * (length // len(unit) + 1))[:length]
