"""The words of the kitchen: what its domain says in codes and numbers, as sentences. Pure; the language is an argument."""

from kitchen.words.remarks import refusal_words, sentence, words_of
from kitchen.words.sentences import ENGLISH, Language

__all__ = ["ENGLISH", "Language", "refusal_words", "sentence", "words_of"]
