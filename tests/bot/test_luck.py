"""Codes that open doors: too many to guess, and only their hashes are kept."""

import base64
import re

from bot.luck import fingerprint, new_code, same_code


def test_a_code_has_128_random_bits_and_only_its_hash_is_kept() -> None:
    codes = {new_code() for _ in range(1000)}
    assert len(codes) == 1000
    assert all(re.fullmatch(r"[A-Za-z0-9_-]{22}", each) for each in codes)
    decoded = [base64.urlsafe_b64decode(f"{each}==") for each in codes]
    assert {len(each) * 8 for each in decoded} == {128}
    seen = [sum(each[bit // 8] >> bit % 8 & 1 for each in decoded) for bit in range(128)]
    assert all(350 < ones < 650 for ones in seen), "some bit is hardly random"
    assert not any(each in fingerprint(each) for each in codes)


def test_codes_are_the_same_only_as_a_whole() -> None:
    assert same_code("a-code-of-22-characters", "a-code-of-22-characters")
    assert not same_code("a-code-of-22-character", "a-code-of-22-characters")
    assert not same_code("", "a-code-of-22-characters")
    assert not same_code("ä", "a")
