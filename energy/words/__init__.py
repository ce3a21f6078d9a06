"""The words of the energy app: what its domain says in codes and numbers, as sentences. Pure; the language is an argument."""

from energy.words.remarks import ENGLISH, Language, sentence, words_of

__all__ = ["ENGLISH", "Language", "sentence", "words_of"]
