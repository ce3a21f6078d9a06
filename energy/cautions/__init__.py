"""The cautions: which classes a recipe's foods belong to, which sentences those, the cooker and its source call for, and which
matter most. Pure; the names of foods and the sentences stand in files beside it."""
