"""The cautions: which classes a recipe's foods belong to, which sentences those, the cooker and its source call for, and which
matter most. Pure; the names of foods and the sentences stand in files beside it.

Decisions. Of 1 December 2026 unless it says otherwise. A line's own words decide its classes; the linked food speaks where
they name none, so that a tin silences no dried beans. Of two words about a bean the dried one counts; red kidney, cannellini,
borlotti and their kin warn when nothing is said. Sausages are ground meat, also those that are sold smoked; frankfurters are
cooked before. A sentence never changes under its key: what says something new gets a new key, the old one stays in the file
for the editions of its list, and a later program's stand beside, named as newer. ``Card.seen`` is how an edition from before
a card is looked at. Four stand open, of a cooker or a source at most two before others have their turn; an answered caution
goes to the fold with the cook's word, never away. Answers live on the line, own cautions on the recipe.
``tests/energy/cautions/names.txt`` was written from the sources, and each of its parts before the program first ran on it: of
its first 600 lines 2 % were wrong then, of the 882 after those 5 %, of 176 words of other kitchens and for later 9 %.
"""
