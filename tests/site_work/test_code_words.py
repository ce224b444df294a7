"""Code words against brute force and the bounds of coding theory.

Sphere-packing, Singleton's and the Gilbert-Varshamov bound, Hamming codes: MacWilliams and Sloane, The Theory of
Error-Correcting Codes, chapter 1, from memory.
"""

import itertools
import math

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from zonecfg.identify.code_words import Decoder, code, mismatches, shortest, travel

KINDS = list(itertools.product((2, 3), (2, 3)))
UNITS = (7, 26, 40, 121)


def with_reserved(made):
    return [*made.words, (0,) * made.length, (made.levels - 1,) * made.length]


def apart(one, other):
    return sum(a != b for a, b in zip(one, other, strict=True))


def ball(length, levels, radius):
    return sum(math.comb(length, k) * (levels - 1) ** k for k in range(radius + 1))


@pytest.mark.parametrize(("levels", "distance"), KINDS)
@pytest.mark.parametrize("count", [*range(1, 34), 40, 62, 63, 121, 200])
def test_distance_by_brute_force(count, levels, distance):
    """Closed throughout and open throughout are words of the code: as far from all others as those are."""
    made = code(count, levels=levels, distance=distance)
    assert len(set(made.words)) == count
    assert all(len(word) == made.length and set(word) <= set(range(levels)) for word in made.words)
    assert min(apart(a, b) for a, b in itertools.combinations(with_reserved(made), 2)) >= distance


@pytest.mark.parametrize(("levels", "distance"), KINDS)
@pytest.mark.parametrize("count", [1, 2, 5, 7, 13, 14, 26, 40, 62, 100, 121, 254, 500])
def test_length_between_the_bounds(count, levels, distance):
    """No shorter than sphere packing and Singleton allow, no longer than Gilbert and Varshamov promise."""
    made, total = code(count, levels=levels, distance=distance), count + 2
    assert total * ball(made.length, levels, (distance - 1) // 2) <= levels**made.length
    assert total <= levels ** (made.length - distance + 1)
    assert made.at_least <= made.length
    promised = next(n for n in itertools.count(distance) if levels**n >= total * ball(n, levels, distance - 1))
    assert made.length <= max(promised, made.at_least)
    below = made.at_least - 1
    assert (
        total * ball(below, levels, (distance - 1) // 2) > levels**below
        or total > levels ** (below - distance + 1)
        or below < (2 * distance if levels == 2 else distance)
    )


@pytest.mark.parametrize("count", UNITS)
def test_rounds_of_a_parity_check(count):
    """As many rounds as it takes to number all words, reserved ones among them, and one more."""
    assert code(count).length == math.ceil(math.log2(count + 2)) + 1


@pytest.mark.parametrize("length", range(2, 8))
def test_ternary_parity_checks_reach_singletons_bound(length):
    """All 3 to the power of the length less one are used, both reserved words among them."""
    assert code(3 ** (length - 1) - 2, levels=3).length == length


@pytest.mark.parametrize(
    ("count", "length"),
    [(7, 7), (26, 9), (40, 10), (121, 11)],
)
def test_rounds_of_a_shortened_hamming_code(count, length):
    """The best codes there are: A(6,3)=8, A(8,3)=20, A(9,3)=40 and A(10,3)=72 are below the words needed.

    Table of A(n, d) in the appendix of MacWilliams and Sloane, from memory.
    """
    assert code(count, distance=3).length == length


@pytest.mark.parametrize(("levels", "distance", "length"), [(2, 2, 4), (2, 2, 5), (3, 2, 3), (2, 3, 6)])
def test_no_other_code_of_a_length_has_more_words(levels, distance, length):
    """The largest clique of words that are far enough apart, with both reserved ones in it."""
    words = [
        w
        for w in itertools.product(range(levels), repeat=length)
        if apart(w, (0,) * length) >= distance and apart(w, (levels - 1,) * length) >= distance
    ]
    graph = nx.Graph()
    graph.add_nodes_from(words)
    graph.add_edges_from((a, b) for a, b in itertools.combinations(words, 2) if apart(a, b) >= distance)
    best, _ = nx.max_weight_clique(graph, weight=None)
    assert code(len(best), levels=levels, distance=distance).length == length
    assert code(len(best) + 1, levels=levels, distance=distance).length > length


@pytest.mark.parametrize("levels", [2, 3])
@pytest.mark.parametrize("count", UNITS)
def test_every_single_misread_is_detected(count, levels):
    made = code(count, levels=levels)
    words = with_reserved(made)
    decoder = Decoder(words, levels=levels, distance=2)
    for number, word in enumerate(words):
        assert decoder.surely(word) == number
        for seen in misread_once(word, levels):
            assert decoder.surely(seen) is None


@pytest.mark.parametrize("levels", [2, 3])
@pytest.mark.parametrize("count", UNITS)
def test_every_single_misread_is_corrected(count, levels):
    made = code(count, levels=levels, distance=3)
    words = with_reserved(made)
    decoder = Decoder(words, levels=levels, distance=3)
    for number, word in enumerate(words):
        assert decoder.surely(word) == number
        for seen in misread_once(word, levels):
            assert decoder.surely(seen) == number
            assert len(mismatches(seen, word)) == 1


def misread_once(word, levels):
    for place, letter in enumerate(word):
        for other in range(levels):
            if other != letter:
                yield (*word[:place], other, *word[place + 1 :])


@given(st.sampled_from(KINDS), st.integers(1, 40), st.data())
def test_decoding_by_brute_force(kind, count, data):
    """Named exactly where one misread more than corrected would show.

    Without blanks: below half the distance. With blanks: an exact fit, and every other word two rounds away or more.
    """
    levels, distance = kind
    made = code(count, levels=levels, distance=distance)
    words = with_reserved(made)
    letters = st.one_of(st.none(), st.integers(0, levels - 1))
    seen = data.draw(
        st.one_of(
            st.lists(letters, min_size=made.length, max_size=made.length),
            st.sampled_from(words).flatmap(
                lambda word: st.tuples(*(st.one_of(st.just(a), st.just(a), st.just(a), letters) for a in word))
            ),
        )
    )
    blanks = sum(letter is None for letter in seen)
    wrong = [sum(a not in (None, b) for a, b in zip(seen, word, strict=True)) for word in words]
    if blanks:
        alone = wrong.count(0) == 1 and wrong.count(1) == 0
        near = [wrong.index(0)] if alone and blanks <= distance else []
    else:
        near = [number for number, misread in enumerate(wrong) if 2 * misread < distance]
    assert len(near) <= 1
    assert Decoder(words, levels=levels, distance=distance).surely(seen) == (near[0] if near else None)


@pytest.mark.parametrize(("levels", "distance"), KINDS)
def test_words_that_move_little_are_taken(levels, distance):
    """With as many words as the length has, none is left out; with one less, none that moves less than another."""
    full = next(n for n in range(2, 400) if code(n + 1, levels=levels, distance=distance).length > 6)
    every = code(full, levels=levels, distance=distance)
    some = code(full - 1, levels=levels, distance=distance)
    assert some.length == every.length
    assert max(map(travel, some.words)) <= max(map(travel, every.words))
    left = set(every.words) - set(some.words)
    assert {travel(word) for word in left} == {max(map(travel, every.words))}


@pytest.mark.parametrize(
    ("levels", "distance", "most", "length"),
    [(2, 2, 6, 4), (3, 2, 7, 3), (2, 3, 7, 6), (2, 3, 14, 7), (3, 3, 7, 4), (3, 3, 20, 5)],
)
def test_no_code_can_be_shorter(levels, distance, most, length):
    """MacWilliams and Sloane, chapter 1, with two words of each code reserved.

    Singleton: 2 to the power of 3 and 3 of 2 at distance 2. Spheres: 9·7 fit into 2 of 6 and 22·11 into 3 of 5, but
    10·7 and 23·11 do not; the Hamming code of 16 words of 7 letters and the ternary one of 9 words of 4 fill theirs.
    """
    assert shortest(most, levels=levels, distance=distance) == length
    assert shortest(most + 1, levels=levels, distance=distance) == length + 1


def test_the_same_words_every_time():
    assert code(40) == code(40)
    assert shortest(0, levels=2, distance=2) == 2
    assert code(0).words == ()
