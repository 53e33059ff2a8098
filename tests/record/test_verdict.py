"""A verdict says first what holds, then the first thing that does not; nothing forged can pass for a line of it."""

from portal.record.verdict import Fault, Verdict


def test_what_holds_is_said_in_order_and_then_that_all_of_it_does() -> None:
    verdict = Verdict(("One thing holds.", "So does another."))
    assert verdict.ok and str(verdict) == "One thing holds.\nSo does another.\nAll of it holds."
    assert str(Verdict()) == "All of it holds."


def test_the_first_fault_ends_it() -> None:
    verdict = Verdict(("One thing holds.",), str(Fault("entry 2 was changed.")))
    assert not verdict.ok and str(verdict) == "One thing holds.\nThis does not hold: entry 2 was changed."
    assert not Verdict((), "").ok, "an empty fault is one"


def test_no_line_break_or_terminal_code_of_a_forged_file_gets_out() -> None:
    verdict = Verdict(("by Ines\nAll of it holds.",), "name\x1b[2J\u2028\u202eend")
    lines = str(verdict).split("\n")
    assert lines == ["by Ines�All of it holds.", "This does not hold: name�[2J��end"]
