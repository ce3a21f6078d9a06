"""The house tests judge what belongs to the project, and nothing that merely lies beside it."""

import subprocess

from tests.house.tree import TOP, own_files, project_files


def unpacked(folder):
    """A small copy of the project: a module, a README, what its use leaves behind, and somebody's note and log."""
    for name in (
        "README.md",
        "notes.md",
        "kitchen/models.py",
        "kitchen/__pycache__/models.pyc",
        "server.log",
        ".data/kitchen.txt",
    ):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text("")
    return folder


def names(folder):
    return {path.relative_to(folder).as_posix() for path in own_files(folder)}


def test_a_note_beside_the_readme_is_no_file_of_the_project(tmp_path):
    folder = unpacked(tmp_path)
    for command in (["init", "--quiet"], ["add", "README.md", "kitchen/models.py"]):
        subprocess.run(["git", "-C", str(folder), *command], check=True)
    assert names(folder) == {"README.md", "kitchen/models.py"}


def test_an_unpacked_copy_is_judged_by_where_things_stand(tmp_path):
    assert names(unpacked(tmp_path)) == {"README.md", "kitchen/models.py"}


def test_a_tracked_file_that_was_taken_away_is_not_read(tmp_path):
    folder = unpacked(tmp_path)
    for command in (["init", "--quiet"], ["add", "--all"]):
        subprocess.run(["git", "-C", str(folder), *command], check=True)
    (folder / "kitchen/models.py").unlink()
    assert "kitchen/models.py" not in names(folder)
    assert "notes.md" in names(folder)


def test_the_project_is_found_whole():
    assert len(list(project_files())) > 500
    assert TOP / "tests/house/tree.py" in own_files()
