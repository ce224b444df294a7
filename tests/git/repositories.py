"""Real repositories that know nothing of the tester's own git."""

import os
import subprocess
import sys
from pathlib import Path

PROGRAM = Path(sys.executable).parent
ENVIRONMENT = {
    **os.environ,
    "PATH": f"{PROGRAM}{os.pathsep}{os.environ['PATH']}",
    "GIT_AUTHOR_NAME": "A",
    "GIT_AUTHOR_EMAIL": "a@example.org",
    "GIT_COMMITTER_NAME": "A",
    "GIT_COMMITTER_EMAIL": "a@example.org",
    "GIT_CONFIG_GLOBAL": os.devnull,
    "GIT_CONFIG_SYSTEM": os.devnull,
    "GIT_PAGER": "cat",
    "LC_ALL": "C",
}


def tried(folder, *command):
    """Run a command in a folder and give how it ended."""
    return subprocess.run(command, cwd=folder, env=ENVIRONMENT, capture_output=True, text=True, check=False)


def git(folder, *arguments):
    """Run git, which must end well, and give what it prints."""
    done = tried(folder, "git", *arguments)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def commit(folder, message, **files):
    """Write files, by name with _ for the dot, and commit all there is."""
    for name, text in files.items():
        Path(folder, name.replace("__", "-").replace("_", ".")).write_text(text, "utf-8")
    git(folder, "add", "-A")
    git(folder, "commit", "-qm", message)


def repository(folder, *, drivers=True):
    """Make a repository, with the drivers set up as a user does it."""
    folder.mkdir(parents=True, exist_ok=True)
    git(folder, "init", "-q", "-b", "main")
    if drivers:
        done = tried(folder, "zonecfg", "git-setup", "--write")
        assert done.returncode == 0, done.stderr
    return folder
