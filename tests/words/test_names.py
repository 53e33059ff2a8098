"""One rule for names: people write theirs as they like, and are asked once where it could be somebody else's."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from portal.words.names import (
    beside_plate,
    doubtful,
    folded,
    initials,
    plate,
    plate_words,
    resembles,
    same_name,
    words_of,
)

FAMILY = ("Jonas Okafor", "Adaeze Okafor", "Iris Sorensen")
"""Who is of the project besides Maren Okafor."""


@pytest.mark.parametrize(
    "typed",
    ["Maren Okafor", "maren okafor", "MAREN  OKAFOR", "Okafor, Maren", "M. Okafor", "Maren O.", "O. Maren", "Maren",
     "Okafor", "Maren Lind Okafor", "Maren Okafer", "Marren Okafor", "MAREN OKAFOR-LIND", "Okafor-Lund, Märén",
     "Maren O. Lund", "Maren Lindqvist", "Mrs. Okafor", "Mar Okafor", "Maren A. Okafor"],
)  # fmt: skip
def test_who_writes_their_own_name_their_own_way_is_not_asked(typed: str) -> None:
    assert not doubtful(typed, "Maren Okafor", FAMILY)


@pytest.mark.parametrize(
    "typed",
    ["Jonas Okafor", "jonas okafor", "Okafor, Jonas", "J. Okafor", "Jonas", "Jonas O.", "Jonas Lindqvist", "Jon Okafor",
     "Jonss Okafor", "A. Okafor", "Iris Sorensen", "Iris Okafor"],
)  # fmt: skip
def test_a_name_that_fits_another_of_the_project_better_is_asked_about(typed: str) -> None:
    assert doubtful(typed, "Maren Okafor", FAMILY)


@pytest.mark.parametrize(
    "typed", ["Milo Moss", "M. O.", "x", "…", "", "Karen Smith", "M. Moss", "Ok Moss", "Marne Marne"]
)
def test_a_name_that_is_like_nobodys_is_asked_about(typed: str) -> None:
    assert doubtful(typed, "Maren Okafor", FAMILY) and doubtful(typed, "Maren Okafor", [])


def test_the_last_name_alone_is_enough_as_long_as_it_could_be_nobody_elses() -> None:
    """Emeka is known to nobody here: it may be what Maren is called at home."""
    assert not doubtful("Emeka Okafor", "Maren Okafor", FAMILY)
    assert doubtful("Emeka Okafor", "Maren Okafor", [*FAMILY, "Emeka Okafor"])


@pytest.mark.parametrize(
    ("typed", "holder", "other", "asked"),
    [
        ("Jonas Okafor", "Jonas Okafor", "Jonas Okafor", False),  # father and son
        ("Jonas Okafor Sr.", "Jonas Okafor Sr.", "Jonas Okafor Jr.", False),
        ("Jonas Okafor Jr.", "Jonas Okafor Sr.", "Jonas Okafor Jr.", True),
        ("Anna Maria Lund", "Anna Maria Lund", "Anna Lund", False),  # mother and daughter
        ("Anna Lund", "Anna Maria Lund", "Anna Lund", True),
        ("Anna Lund", "Anna Lund", "Anna Maria Lund", False),
        ("A. Lund", "Anna Lund", "Arne Lund", False),
        ("Anne Lund", "Anna Lund", "Anne Lund", True),
        ("Anna Lindqvist", "Anna Lund", "Berit Lindqvist", False),  # her name before
        ("Maria de la Rosa", "Juan de la Cruz", "Maria de la Rosa", True),
        ("Alex Lund", "Alexander Lund", "Alva Lund", False),
        ("Alva Lund", "Alexander Lund", "Alva Lund", True),
        ("Marina O.", "Marine Okafor", "Marina Okafor", True),  # a slip is no match for the name itself
        ("Olga Okafor", "O. Okafor", "Olga Lund", False),  # the initial stands for Olga, not for Okafor
        ("Mrs. Maren Okafor", "Maren Okafor", "Maren Okafer", False),
    ],
)  # fmt: skip
def test_names_alike_in_one_family(typed: str, holder: str, other: str, asked: bool) -> None:
    assert doubtful(typed, holder, [other]) is asked


@pytest.mark.parametrize(
    ("typed", "known"),
    [("Pat O'Brien", "Pat O’Brien"), ("Pat O Brien", "Pat O'Brien"), ("pat obrien", "Pat O’Brien"),
     ("P. OʼBrien", "Pat O'Brien"), ("ZOË O’BRIEN", "Zoe O'Brien"), ("Soren Ostergard", "Sören Östergård"),
     ("Sören Sorensen", "Søren Sørensen"), ("STRASSER Jörg", "Jörg Straßer"), ("McDonald Ann", "Ann Mc Donald"),
     ("Ann-Marie Lund", "Ann Marie Lund"), ("Annmarie Lund", "Ann-Marie Lund")],
)  # fmt: skip
def test_marks_apostrophes_and_spaces_make_no_other_name(typed: str, known: str) -> None:
    assert not doubtful(typed, known, ["Nobody Else"])


@pytest.mark.parametrize(
    ("typed", "holder", "other", "asked"),
    [
        ("王小明", "王小明", "王小红", False), ("王小红", "王小明", "王小红", True),
        ("王 小明", "王小明", "王小红", False), ("王 小红", "王 小明", "王 小红", True),
        ("Мария Петрова", "Мария Петрова", "Иван Петров", False), ("Иван Петров", "Мария Петрова", "Иван Петров", True),
        ("М. Петрова", "Мария Петрова", "Иван Петров", False), ("И. Петров", "Мария Петрова", "Иван Петров", True),
        ("मरेन ओकाफ़ोर", "मरेन ओकाफ़ोर", "जोनस ओकाफ़ोर", False), ("जोनस ओकाफ़ोर", "मरेन ओकाफ़ोर", "जोनस ओकाफ़ोर", True),
        ("מרים לוי", "מרים לוי", "דוד לוי", False), ("דוד לוי", "מרים לוי", "דוד לוי", True),
        ("مَريَم", "مريم", "يوسف", False), ("يوسف", "مريم", "يوسف", True),
    ],
)  # fmt: skip
def test_other_scripts_follow_the_same_rule(typed: str, holder: str, other: str, asked: bool) -> None:
    assert doubtful(typed, holder, [other]) is asked


def test_a_person_of_one_name_signs_with_it() -> None:
    assert not doubtful("Sukarno", "Sukarno", ["Suharto"])
    assert doubtful("Suharto", "Sukarno", ["Suharto"]) and doubtful("Suharto", "Sukarno", [])
    assert doubtful("Sukarno", "Sukarno Hatta", ["Sukarno"])


def test_a_person_who_is_entered_under_a_letter_signs_with_it() -> None:
    assert not doubtful("X", "X", []) and doubtful("Y", "X", [])


@pytest.mark.parametrize("typed", ["M. O.", "M O", "m.", "M. Okra"])
def test_initials_alone_are_anyones(typed: str) -> None:
    assert not resembles(typed, "Maren Okafor")


@pytest.mark.parametrize(
    ("one", "other"),
    [("Maren Okafor", "okafor, MAREN"), ("O Brien", "O’Brien"), ("Zoë", "Zoe"), ("Ann-Marie", "annmarie")],
)
def test_the_same_name_in_other_letters(one: str, other: str) -> None:
    assert same_name(one, other) and same_name(other, one)


@pytest.mark.parametrize(
    ("one", "other"),
    [("Maren Okafor", "Maren"), ("Maren Okafor", "M. Okafor"), ("Maren Okafor", "Maren Okafer"), ("", ""), ("…", "?"),
     ("Maren Maren", "Maren"), ("Jonas Okafor Sr.", "Jonas Okafor Jr.")],
)  # fmt: skip
def test_names_alike_are_not_the_same(one: str, other: str) -> None:
    assert not same_name(one, other) and not same_name(other, one)


def test_a_word_ends_where_no_letter_follows() -> None:
    assert words_of("  Zoë O’Brien-Lund, (2nd) ") == ["zoe", "obrien", "lund", "2nd"]
    assert words_of("मरेन_ओ") == ["मरेन_ओ"] and words_of("…") == []


def test_letters_are_compared_without_capitals_and_marks() -> None:
    assert folded("Zoë O’Brien") == "zoe obrien" and folded("STRASSE") == folded("Straße")


NAMES = st.lists(st.text("abcdefmno", min_size=2, max_size=8), min_size=1, max_size=3).map(" ".join)


@given(NAMES, st.lists(NAMES, max_size=4))
def test_nobody_is_asked_who_types_what_we_know(name: str, others: list[str]) -> None:
    assert not doubtful(name, name, others)
    assert not doubtful(" ".join(reversed(name.upper().split())), name, others)


@given(NAMES, NAMES)
def test_whoever_types_anothers_whole_name_is_asked(name: str, other: str) -> None:
    assert doubtful(other, name, [other]) is not same_name(other, name)


@pytest.mark.parametrize(("address", "expected"), [
    ("14 Tamarack Lane, Pell Harbor", "14"), ("12481 Saint-Barthélemy-on-the-Lake Boulevard", "12481"),
    ("14 b Quarry Road", "14B"), ("7-9 Mill Row", "7-9"), ("  3, The Green", "3"),
    ("Tamarack Lane 14", "O"), ("1st Street", "O"), ("", "O"), ("14 Beech Road", "14"),
])
def test_the_number_that_the_address_begins_with_or_the_first_letter(address: str, expected: str) -> None:
    assert plate(address, "Okafor house") == expected


def test_a_name_may_begin_with_anything() -> None:
    assert plate("", "¡Éva!") == "É" and plate("", "…") == "?"


def test_it_says_what_it_is() -> None:
    assert plate_words("14 Tamarack Lane", "Okafor house") == "Okafor house, number 14"
    assert plate_words("Tamarack Lane", "Okafor house") == "Okafor house"


@pytest.mark.parametrize(
    ("name", "letters"),
    [("Brackwater Remodeling", "BR"), ("a b c d", "ABC"), ("", ""), ("& Sons 4 you", "S4Y"), ("Öberg", "Ö")],
)
def test_a_firm_begins_with_the_letters_of_its_words(name: str, letters: str) -> None:
    assert initials(name) == letters


def test_beside_its_plate_a_house_is_not_called_one() -> None:
    assert [beside_plate(name) for name in ("Okafor house", "Vieira House", "Alder House East", "House", " house")] == [
        "Okafor", "Vieira", "Alder House East", "House", " house"]
