"""The words of the costing app: what its domain says in codes and numbers, as sentences. Pure; the language is an argument."""

from costing.words.remarks import ENGLISH, Language, sentence, words_of

__all__ = ["ENGLISH", "Language", "sentence", "words_of"]
