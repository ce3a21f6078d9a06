"""Backups: everything into one file and back, proved.

Decisions. Of 1 December 2026 unless it says otherwise. A backup is no archive: it holds rows as they are, in one ZIP for both
databases (JSON lines by table, one tar of photos, since a member for each file would grow memory with the library), read from
one moment by the models of the migrations that the tables have seen, so that tables that wait for an upgrade can be backed up
too. It is restored at the step it was made at, compared row by row, then brought up to date, in one transaction; a proof is
the same in a program of its own, because migrations work on the database that settings name. An upgrade is one transaction
over all migrations, so none may ask for none (``tests/deploy/test_upgrading.py``), after a backup of the rows alone: no
migration touches a photo file. Whoever takes photo files away shares the folder's lock, a backup holds it alone. Sealing is
scrypt and ChaCha20-Poly1305 by ``cryptography``. The last 200 MB of the disk are kept for readings: photos, archives and
files are refused with 507 before. Sessions and ``.env`` are in no backup. What is reached: ``deploy/measures.md``.
"""
