"""The two commands' set-up: what it runs, when it runs it again, and what it says when it can't."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import set_up


class Shell:
    """Stands in for `subprocess.run`: notes each command, makes the interpreter that venv makes."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.ran: list[list[str]] = []
        self.fails_at = ""

    def __call__(self, words: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        self.ran.append([str(word) for word in words])
        if "venv" in words:
            python = set_up.python_in(self.root / ".venv")
            python.parent.mkdir(parents=True, exist_ok=True)
            python.touch()
        failed = bool(self.fails_at) and self.fails_at in words
        return subprocess.CompletedProcess(words, 1 if failed else 0)

    def installs(self) -> list[str]:
        """What each pip run installed."""
        return [words[-1] for words in self.ran if "pip" in words]


@pytest.fixture
def shell(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shell:
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    (tmp_path / "constraints.txt").write_text("six==1.16.0\n", encoding="utf-8")
    stand_in = Shell(tmp_path)
    monkeypatch.setattr(set_up.subprocess, "run", stand_in)
    return stand_in


def test_it_makes_an_environment_and_installs_with_the_constraints(shell: Shell) -> None:
    python = set_up.prepare(["fixtures"], root=shell.root)
    venv, pip = shell.ran
    assert venv[:3] == [sys.executable, "-m", "venv"]
    assert pip[:4] == [str(python), "-m", "pip", "install"]
    assert pip[-4:] == ["-c", "constraints.txt", "-e", ".[fixtures]"]
    assert not any(word.startswith(("-i", "--index", "--extra-index")) for word in pip)


def test_it_does_nothing_the_second_time(shell: Shell) -> None:
    set_up.prepare(["fixtures"], root=shell.root)
    set_up.prepare(["fixtures"], root=shell.root)
    assert shell.installs() == [".[fixtures]"]


def test_it_adds_what_is_missing_and_keeps_what_is_there(shell: Shell) -> None:
    set_up.prepare(["fixtures"], root=shell.root)
    set_up.prepare(["tests"], root=shell.root)
    set_up.prepare(["fixtures"], root=shell.root)
    assert shell.installs() == [".[fixtures]", ".[fixtures,tests]"]


@pytest.mark.parametrize("name", ["pyproject.toml", "constraints.txt"])
def test_it_installs_again_when_the_recipe_changes(shell: Shell, name: str) -> None:
    set_up.prepare(["fixtures"], root=shell.root)
    (shell.root / name).write_text("# other\n", encoding="utf-8")
    set_up.prepare(["fixtures"], root=shell.root)
    assert len(shell.installs()) == 2


def test_an_install_that_failed_is_tried_again(shell: Shell) -> None:
    shell.fails_at = "pip"
    with pytest.raises(set_up.SetUpError, match="pip could not install"):
        set_up.prepare(["fixtures"], root=shell.root)
    shell.fails_at = ""
    set_up.prepare(["fixtures"], root=shell.root)
    assert len(shell.installs()) == 2


def test_no_virtual_environments_are_told_with_their_remedy(shell: Shell) -> None:
    shell.fails_at = "venv"
    with pytest.raises(set_up.SetUpError, match="python3-venv"):
        set_up.prepare(["fixtures"], root=shell.root)


def test_an_old_python_is_told(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(set_up.sys, "version_info", (3, 9, 2))
    with pytest.raises(set_up.SetUpError, match=r"Python 3\.9\.2 is too old"):
        set_up.prepare(["fixtures"], root=shell.root)
    assert shell.ran == []


def test_missing_system_libraries_are_installed_by_root(
    shell: Shell, monkeypatch: pytest.MonkeyPatch
) -> None:
    answers = iter([False, True])
    monkeypatch.setattr(set_up, "_kernel_loads", lambda: next(answers))
    monkeypatch.setattr(set_up.sys, "platform", "linux")
    monkeypatch.setattr(set_up.os, "geteuid", lambda: 0)
    monkeypatch.setattr(set_up.shutil, "which", lambda name: f"/usr/bin/{name}")
    assert set_up.kernel_ready()
    assert [words[2] for words in shell.ran] == ["update", "install"]
    assert shell.ran[1][-2:] == ["libgl1", "libx11-6"]


def test_missing_system_libraries_are_named_to_anyone_else(
    shell: Shell, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(set_up, "_kernel_loads", lambda: False)
    monkeypatch.setattr(set_up.sys, "platform", "linux")
    monkeypatch.setattr(set_up.os, "geteuid", lambda: 1000)
    assert not set_up.kernel_ready()
    assert shell.ran == []
    assert set_up.INSTALL_LINE in capsys.readouterr().out
