"""buildtools/run.py: when it sets up, what it refuses, what it passes on. Nothing here uses the network."""

import ast
import importlib.util
import json
import re
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.specifiers import SpecifierSet
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parent.parent
SCRIPT = ROOT / "buildtools" / "run.py"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


@pytest.fixture
def run():
    """The script as a fresh module, so that no test sees what another replaced."""
    spec = importlib.util.spec_from_file_location("run_under_test", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def checkout(run, tmp_path, monkeypatch):
    """A checkout of its own with a pretended .venv; returns the list of what was really done to it."""
    (tmp_path / "buildtools").mkdir()
    (tmp_path / "pyproject.toml").write_text("[project]\n")
    (tmp_path / "buildtools" / "requirements.txt").write_text("a==1\n")
    (tmp_path / "buildtools" / "requirements-test.txt").write_text("a==1\nb==1\n")
    monkeypatch.setattr(run, "ROOT", tmp_path)
    monkeypatch.setattr(run, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(run, "STAMP", tmp_path / ".venv" / "kitwright-setup.json")
    done = []

    def make_environment():
        done.append("environment")
        for name in ("python", "kitwright"):
            run.program(name).parent.mkdir(parents=True, exist_ok=True)
            run.program(name).write_text("")

    monkeypatch.setattr(run, "make_environment", make_environment)
    monkeypatch.setattr(run, "install", done.append)
    # the pretended environment answers like one made by this Python
    answer = subprocess.CompletedProcess([], 0, stdout=run.wanted("build")["python"] + "\n")
    monkeypatch.setattr(run.subprocess, "run", lambda *_, **__: answer)
    return done


# The script itself


def test_uses_the_standard_library_alone():
    """Against sys.stdlib_module_names, the interpreter's own list (Python library reference, `sys`)."""
    names = set()
    for node in ast.walk(ast.parse(SCRIPT.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0
            names.add(node.module.split(".")[0])
    assert names and names <= sys.stdlib_module_names


def test_an_old_python_can_read_it():
    ast.parse(SCRIPT.read_text(encoding="utf-8"), feature_version=(3, 7))


@pytest.mark.parametrize("words", [[], ["--help"], ["-h"], ["help"]])
def test_help_needs_no_set_up_and_no_packages(words):
    # -I -S: neither the environment's packages nor PYTHON variables are there to lean on
    told = subprocess.run([sys.executable, "-I", "-S", SCRIPT, *words], capture_output=True, text=True, check=True)
    for word in ("build", "test", "check", "preview", "new"):
        assert f"run.py {word}" in told.stdout
    assert told.stderr == ""


def test_ci_types_the_test_command_last():
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert lines[-1] == "exec python3 buildtools/run.py test"
    subprocess.run(["bash", "-n", ROOT / ".ci" / "run"], check=True)


# Which Python will do


@pytest.mark.parametrize("minor", range(7, 17))
def test_accepts_the_pythons_that_pyproject_promises(run, minor):
    promised = SpecifierSet(PROJECT["project"]["requires-python"])
    try:
        run.check_python((3, minor, 0))
        accepted = True
    except run.CannotSetUp:
        accepted = False
    assert accepted == promised.contains(f"3.{minor}.0")


def test_refusal_names_the_version_and_one_that_is_here(run, monkeypatch):
    monkeypatch.setattr(run.shutil, "which", lambda name: "/bin/it" if name == "python3.12" else None)
    with pytest.raises(run.CannotSetUp, match=r"Python 3\.9\.2; kitwright needs 3\.11, 3\.12, 3\.13, 3\.14 or 3\.15") as told:
        run.check_python((3, 9, 2))
    assert "python3.12 buildtools/run.py" in str(told.value)


@pytest.mark.parametrize(
    ("platform", "here", "command"),
    [("linux", "apt-get", "apt-get install python3"), ("linux", "dnf", "dnf install"), ("darwin", "", "brew install")],
)
def test_refusal_names_the_command_that_installs_one(run, monkeypatch, platform, here, command):
    monkeypatch.setattr(run.shutil, "which", lambda name: "/bin/it" if name == here else None)
    monkeypatch.setattr(run.sys, "platform", platform)
    with pytest.raises(run.CannotSetUp, match=command):
        run.check_python((3, 8, 0))


def test_refusal_says_why_a_python_is_too_new(run):
    with pytest.raises(run.CannotSetUp, match="have a build"):
        run.check_python((3, 16, 0))


def test_says_which_part_of_python_debian_keeps_apart(run, monkeypatch, tmp_path):
    monkeypatch.setattr(run, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(run.importlib.util, "find_spec", lambda _: None)
    monkeypatch.setattr(run.shutil, "which", lambda _: "/usr/bin/apt-get")
    with pytest.raises(run.CannotSetUp, match=r"apt-get install python3\.\d+-venv"):
        run.make_environment()
    assert not (tmp_path / ".venv").exists()


# When it sets up


def test_sets_up_once_and_then_starts_at_once(run, checkout):
    run.set_up("build")
    assert checkout == ["environment", "build"]
    run.set_up("build")
    assert checkout == ["environment", "build"]


def test_tests_add_to_what_a_build_set_up_and_a_build_keeps_it(run, checkout):
    run.set_up("build")
    run.set_up("test")
    run.set_up("build")
    run.set_up("test")
    assert checkout == ["environment", "build", "test"]


@pytest.mark.parametrize("file", ["pyproject.toml", "buildtools/requirements.txt"])
def test_a_changed_file_is_brought_up_to_date_in_place(run, checkout, file):
    run.set_up("build")
    with open(run.ROOT / file, "a") as changed:
        changed.write("# more\n")
    run.set_up("build")
    assert checkout == ["environment", "build", "build"]


def test_changed_test_tools_do_not_hold_a_build_up(run, checkout):
    run.set_up("test")
    (run.ROOT / "buildtools" / "requirements-test.txt").write_text("a==1\nb==2\n")
    run.set_up("build")
    assert checkout == ["environment", "test"]
    run.set_up("test")
    assert checkout == ["environment", "test", "test"]


def test_changed_packages_make_the_tests_set_up_again_after_a_build(run, checkout):
    run.set_up("test")
    (run.ROOT / "buildtools" / "requirements.txt").write_text("a==2\n")
    run.set_up("build")
    run.set_up("test")
    assert checkout == ["environment", "test", "build", "test"]


def test_an_interrupted_set_up_starts_afresh(run, checkout, monkeypatch):
    def break_off(_):
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(run, "install", break_off)
        assert run.main(["build"]) == 130
    assert not run.is_ready(run.wanted("build"))
    run.set_up("build")
    assert checkout == ["environment", "environment", "build"]


@pytest.mark.parametrize("stamp", ["", "{", "[]", '"done"', "{}"])
def test_a_stamp_that_says_nothing_counts_as_interrupted(run, checkout, stamp):
    run.make_environment()
    run.STAMP.write_text(stamp)
    run.set_up("build")
    assert checkout == ["environment", "environment", "build"]


@pytest.mark.parametrize("fact", ["python", "folder"])
def test_another_python_or_a_moved_folder_starts_afresh(run, checkout, monkeypatch, fact):
    run.set_up("build")
    facts = json.loads(run.STAMP.read_text())
    run.STAMP.write_text(json.dumps(dict(facts, **{fact: "elsewhere"})))
    gone = subprocess.CompletedProcess([], 1, stdout="")
    monkeypatch.setattr(run.subprocess, "run", lambda *_, **__: gone)
    run.set_up("build")
    assert checkout == ["environment", "build", "environment", "build"]


def test_a_checkout_that_was_moved_is_not_ready(run, checkout, monkeypatch):
    run.set_up("build")
    moved = run.ROOT.rename(run.ROOT.with_name("moved"))
    monkeypatch.setattr(run, "ROOT", moved)
    monkeypatch.setattr(run, "VENV", moved / ".venv")
    monkeypatch.setattr(run, "STAMP", moved / ".venv" / "kitwright-setup.json")
    assert not run.is_ready(run.wanted("build"))
    assert "moved" in run.reason_to_start_afresh(run.wanted("build"))


@pytest.mark.parametrize("name", ["python", "kitwright"])
def test_a_lost_program_is_put_back(run, checkout, name):
    run.set_up("build")
    run.program(name).unlink()
    run.set_up("build")
    assert checkout == ["environment", "build", "build"]


def test_an_environment_that_somebody_made_by_hand_is_used(run, checkout):
    run.make_environment()
    run.set_up("build")
    assert checkout == ["environment", "build"]


def test_the_stamp_is_the_same_inside_and_outside_the_environment(run):
    """Else a start with the environment activated would set everything up again, and back."""
    code = f"import importlib.util as u; s = u.spec_from_file_location('r', {str(SCRIPT)!r})"
    code += "; m = u.module_from_spec(s); s.loader.exec_module(m); print(m.wanted('build')['python'])"
    outside = subprocess.run([run.base_python(), "-I", "-c", code], capture_output=True, text=True, check=True)
    assert outside.stdout.strip() == run.wanted("build")["python"]


def test_a_second_start_waits_for_the_first(run, tmp_path):
    with open(tmp_path / "lock", "w") as first, open(tmp_path / "lock", "w") as second:
        run.lock(first)
        with pytest.raises((BlockingIOError, PermissionError)):
            run.lock(second)
        first.close()
        run.lock(second)


def test_a_pip_failure_is_told_in_pips_words_with_a_remedy(run, monkeypatch, tmp_path):
    monkeypatch.setattr(run, "ROOT", tmp_path)
    monkeypatch.setattr(run, "VENV", tmp_path)
    monkeypatch.setattr(run, "program", lambda _: sys.executable)
    with pytest.raises(run.CannotSetUp, match="No matching distribution.*\n\nIs this machine online"):
        run.pip("--no-index", "kitwright-needs-no-such-package==1")
    assert "ERROR" in (tmp_path / "kitwright-setup.log").read_text()


# What it passes on


@pytest.fixture
def handed(run, monkeypatch):
    """What was started, without starting it: (command, environment), after a pretended set-up."""
    handed = []
    monkeypatch.setattr(run, "set_up", lambda task: None)
    monkeypatch.setattr(run, "hand_over", lambda command, env: handed.append((command, env)) or 0)
    monkeypatch.setattr(run.os, "chdir", lambda _: None)
    return handed


@pytest.mark.parametrize("words", [["build"], ["build", "--out", "my site"], ["check", "kits/2027-03-river-stones"], ["show", "--help"]])
def test_other_words_reach_the_command_unchanged(run, handed, words):
    assert run.main(words) == 0
    assert handed[0][0] == [str(run.program("kitwright")), *words]


def test_the_child_sees_our_packages_alone_and_no_notices(run, handed, monkeypatch):
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.setenv("PIP_CACHE_DIR", "kept")
    run.main(["build"])
    env = handed[0][1]
    assert "PYTHONPATH" not in env
    # What is compiled at a first start is kept for the next.
    assert "PYTHONDONTWRITEBYTECODE" not in env
    assert (env["NO_MKDOCS_2_WARNING"], env["PYTHONUTF8"], env["PIP_CACHE_DIR"]) == ("1", "1", "kept")


def test_test_words_reach_pytest_which_gets_the_browser(run, handed, monkeypatch):
    monkeypatch.setattr(run, "find_browser", lambda: "/bin/browser")
    monkeypatch.setattr(run, "lacks_libatomic", lambda: False)
    monkeypatch.setattr(run, "find_sftp_server", lambda: "/bin/sftp-server")
    monkeypatch.setattr(run.shutil, "which", lambda name: f"/bin/{name}")
    assert run.main(["test", "-k", "stamp"]) == 0
    command, env = handed[0]
    assert command == [str(run.program("python")), "-m", "pytest", "-n", "3", "--dist", "worksteal", "-k", "stamp"]
    assert env["KITWRIGHT_CHROMIUM"] == "/bin/browser"


@pytest.mark.parametrize(
    ("browser", "programs", "bare", "asked"),
    [
        ("", "pdftoppm rsync sftp", False, "chromium-headless-shell"),
        ("/bin/browser", "rsync sftp", False, "poppler-utils"),
        ("/bin/browser", "pdftoppm sftp", False, "rsync"),
        ("/bin/browser", "pdftoppm rsync", False, "openssh-client openssh-sftp-server"),
        ("/bin/browser", "pdftoppm rsync sftp", True, "libatomic1"),
        ("", "", True, "libatomic1 chromium-headless-shell poppler-utils rsync openssh-client openssh-sftp-server"),
    ],
)
def test_tests_do_not_start_while_something_is_missing(run, handed, monkeypatch, capsys, browser, programs, bare, asked):
    monkeypatch.setattr(run, "find_browser", lambda: browser)
    monkeypatch.setattr(run, "lacks_libatomic", lambda: bare)
    monkeypatch.setattr(run, "this_system", lambda: "debian")
    monkeypatch.setattr(run, "find_sftp_server", lambda: "/bin/sftp-server")
    monkeypatch.setattr(run.shutil, "which", lambda name: name if name in programs.split() else None)
    assert run.main(["test"]) == 3
    assert handed == []
    assert f"apt-get install {asked}\n" in capsys.readouterr().err


def test_a_named_browser_must_be_there(run, monkeypatch, tmp_path):
    monkeypatch.setenv("KITWRIGHT_CHROMIUM", str(tmp_path / "none"))
    assert run.find_browser() == ""
    monkeypatch.setenv("KITWRIGHT_CHROMIUM", sys.executable)
    assert run.find_browser() == sys.executable


@pytest.mark.parametrize("system", ["debian", "ubuntu", "fedora", "macos", "windows", "somewhere else"])
def test_every_system_is_told_what_to_type(run, system):
    told = run.commands_for(["libatomic", "chromium", "poppler", "rsync", "sftp-server"], system, windows=system == "windows")
    for part in ("libatomic", "chromium", "poppler", "rsync"):
        assert sum(part in command for command in told) == 1
    assert any("apt-get" in command for command in told) == (system in ("debian", "ubuntu"))
    assert any("playwright install chromium" in command for command in told) == (system != "debian")


def test_programs_lie_where_each_system_puts_them(run):
    """Python library reference, `venv`: Scripts on Windows, bin elsewhere."""
    assert run.program("kitwright", windows=True).parts[-2:] == ("Scripts", "kitwright.exe")
    assert run.program("kitwright", windows=False).parts[-2:] == ("bin", "kitwright")


@pytest.mark.parametrize("windows", [False, True])
def test_the_commands_exit_status_comes_back(windows):
    code = f"import importlib.util as u; s = u.spec_from_file_location('r', {str(SCRIPT)!r})"
    code += "; m = u.module_from_spec(s); s.loader.exec_module(m); import os, sys"
    code += f"; m.WINDOWS = {windows}; sys.exit(m.hand_over([sys.executable, '-c', 'raise SystemExit(7)'], dict(os.environ)))"
    assert subprocess.run([sys.executable, "-c", code]).returncode == 7


# What it installs itself


@pytest.fixture
def debian(run, handed, monkeypatch, tmp_path):
    """A bare Debian, by stand-ins for its programs that note how they were called; what `apt-get` installs is there afterwards."""
    bin, log = tmp_path / "bin", tmp_path / "log"
    bin.mkdir()
    log.touch()
    for name in ("env", "true"):
        (bin / name).symlink_to(f"/usr/bin/{name}")

    class Debian:
        """`has` adds a program, `calls` lists what was called, `asked` types the test command."""

        def has(self, name: str, script: str) -> None:
            (bin / name).write_text(f"#!/bin/sh\n{script}\n")
            (bin / name).chmod(0o755)

        @property
        def calls(self) -> list[str]:
            return log.read_text().splitlines()

        def asked(self) -> int:
            return run.main(["test"])

    machine = Debian()
    there = {"chromium-headless-shell": "chromium-headless-shell", "poppler-utils": "pdftoppm", "rsync": "rsync", "openssh-client": "sftp"}
    installs = "".join(
        f'case " $* " in *" {package} "*) >{bin / name}; /bin/chmod +x {bin / name};; esac\n' for package, name in there.items()
    )
    machine.has("apt-get", f'echo "apt-get $DEBIAN_FRONTEND $*" >>{log}\n{installs}')
    machine.has("sudo", f'echo "sudo $*" >>{log}\nshift\nexec "$@"')
    monkeypatch.setenv("PATH", str(bin))
    monkeypatch.delenv("KITWRIGHT_CHROMIUM", raising=False)
    monkeypatch.setattr(run, "this_system", lambda: "debian")
    monkeypatch.setattr(run, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(run, "ROOT", tmp_path)
    monkeypatch.setattr(run, "wanted", lambda task: {})
    monkeypatch.setattr(run, "lacks_libatomic", lambda: not any("libatomic1" in call for call in machine.calls))
    monkeypatch.setattr(run, "find_sftp_server", lambda: "/bin/it" if any("openssh-sftp-server" in call for call in machine.calls) else "")
    monkeypatch.setattr(run, "set_up", lambda task: log.open("a").write(f"set up for {task}\n"))
    monkeypatch.setattr(run.os, "geteuid", lambda: 0)
    return machine


OPTIONS = "apt-get noninteractive -qq -o Acquire::Retries=3 -o DPkg::Lock::Timeout=300"
LACKING = "libatomic1 chromium-headless-shell poppler-utils rsync openssh-client openssh-sftp-server"


def test_on_debian_root_gets_what_the_tests_need_by_name_and_is_told(run, debian, handed, capsys):
    assert debian.asked() == 0
    update, *beside = debian.calls
    assert update == f"{OPTIONS} update"
    assert sorted(beside) == [f"{OPTIONS} install --yes --no-install-recommends {LACKING}", "set up for test"]
    told = capsys.readouterr()
    assert told.out == "" and f"installing {LACKING} with apt-get" in told.err
    assert handed[0][1]["KITWRIGHT_CHROMIUM"].endswith("/bin/chromium-headless-shell")
    # Once it is there, nothing is asked of the system any more.
    assert debian.asked() == 0
    assert len(debian.calls) == 4 and capsys.readouterr().err == ""


def test_sudo_that_asks_for_no_password_will_do(run, debian, handed, monkeypatch):
    monkeypatch.setattr(run.os, "geteuid", lambda: 1000)
    assert debian.asked() == 0
    assert [call for call in debian.calls if call.startswith("apt-get")] == [
        f"{OPTIONS} update",
        f"{OPTIONS} install --yes --no-install-recommends {LACKING}",
    ]
    assert debian.calls[0] == "sudo -n true" and sum(call.startswith("sudo -n env") for call in debian.calls) == 2
    assert len(handed) == 1


@pytest.mark.parametrize("why", ["sudo asks for a password", "no sudo", "no apt", "ubuntu"])
def test_elsewhere_the_line_to_type_is_told_and_nothing_installed(run, debian, handed, monkeypatch, capsys, tmp_path, why):
    monkeypatch.setattr(run.os, "geteuid", lambda: 1000)
    if why == "sudo asks for a password":
        debian.has("sudo", "exit 1")
    elif why == "ubuntu":
        monkeypatch.setattr(run, "this_system", lambda: "ubuntu")
    else:
        (tmp_path / "bin" / {"no sudo": "sudo", "no apt": "apt-get"}[why]).unlink()
    assert debian.asked() == 3
    assert handed == [] and debian.calls == ["set up for test"]
    packages = LACKING.replace("chromium-headless-shell ", "") if why == "ubuntu" else LACKING
    assert f"\n  sudo apt-get install {packages}\n" in capsys.readouterr().err


@pytest.mark.parametrize("words", ["update", "install"])
def test_what_apt_complains_of_is_told_with_the_line_to_type(run, debian, handed, capsys, words):
    debian.has("apt-get", f'case " $* " in *" {words} "*) echo "E: the mirror is away"; exit 100;; esac')
    assert debian.asked() == 3
    assert handed == []
    told = capsys.readouterr().err
    assert "  E: the mirror is away\n" in told and f"\n  apt-get install {LACKING}\n" in told


def test_the_part_of_python_that_debian_keeps_apart_comes_before_the_set_up(run, debian, monkeypatch):
    monkeypatch.setattr(run.importlib.util, "find_spec", lambda _: None)
    assert debian.asked() == 0
    venv = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
    assert debian.calls[1] == f"{OPTIONS} install --yes --no-install-recommends {venv}"
    assert sorted(debian.calls[2:]) == [f"{OPTIONS} install --yes --no-install-recommends {LACKING}", "set up for test"]


def test_programs_and_packages_are_installed_beside_each_other(run, debian, monkeypatch, tmp_path):
    programs, packages = tmp_path / "programs", tmp_path / "packages"
    # Each goes on only once the other has begun, and gives up after ten seconds.
    waits = f"for n in $(/usr/bin/seq 200); do [ -e {packages} ] && exit 0; /bin/sleep 0.05; done; exit 1"
    debian.has("apt-get", f'case " $* " in *" install "*) : >{programs}; {waits};; esac')

    def set_up(task: str) -> None:
        until = time.monotonic() + 10
        while not programs.exists() and time.monotonic() < until:
            time.sleep(0.01)
        packages.touch()
        raise run.CannotSetUp(f"programs begun: {programs.exists()}")

    monkeypatch.setattr(run, "set_up", set_up)
    with pytest.raises(run.CannotSetUp, match="programs begun: True"):
        run.start(["test"])


def test_who_is_set_up_needs_no_part_that_sets_up(run, debian, monkeypatch):
    monkeypatch.setattr(run.importlib.util, "find_spec", lambda _: None)
    monkeypatch.setattr(run, "is_ready", lambda want: True)
    assert debian.asked() == 0
    assert "venv" not in " ".join(debian.calls)


def test_a_browser_that_is_named_but_not_there_is_told_not_replaced(run, debian, handed, monkeypatch, tmp_path):
    monkeypatch.setenv("KITWRIGHT_CHROMIUM", str(tmp_path / "none"))
    assert debian.asked() == 3
    assert handed == [] and not any(" chromium" in call for call in debian.calls)


@pytest.mark.parametrize("words", [["build"], ["check"], ["--help"]])
def test_nothing_but_the_tests_makes_it_install_programs(run, debian, words):
    assert run.main(words) == 0
    assert not any("apt-get" in call for call in debian.calls)


# The pinned versions


def blocks(name):
    """Each pin of a file with its hashes: {"name==version ; marker": [hash, …]}."""
    pins, pin = {}, ""
    for line in (ROOT / "buildtools" / name).read_text(encoding="utf-8").splitlines():
        line = line.removesuffix("\\").strip()
        if line.startswith("--hash="):
            pins[pin].append(line.removeprefix("--hash="))
        elif line and not line.startswith("#"):
            pin = line
            pins[pin] = []
    return pins


@pytest.mark.parametrize("name", ["requirements.txt", "requirements-test.txt"])
def test_every_pin_is_exact_and_hashed(name):
    """pip's hash-checking mode asks for `==` and a hash for each (pip user guide, "Secure installs")."""
    for pin, hashes in blocks(name).items():
        assert re.fullmatch(r"[a-z0-9-]+==[\w.]+( ; .+)?", pin)
        assert hashes and all(re.fullmatch("sha256:[0-9a-f]{64}", found) for found in hashes)


@pytest.mark.parametrize("name", ["buildtools/requirements.txt", "buildtools/requirements-test.txt", "pyproject.toml"])
def test_no_address_stands_in_the_files(name):
    text = (ROOT / name).read_text(encoding="utf-8")
    assert "://" not in text and "--index-url" not in text and "--find-links" not in text


def test_the_tests_run_on_the_very_versions_that_build():
    everything = {pin.split(" ;")[0]: hashes for pin, hashes in blocks("requirements-test.txt").items()}
    for pin, hashes in blocks("requirements.txt").items():
        assert everything[pin.split(" ;")[0]] == hashes


@pytest.mark.parametrize("name", ["requirements.txt", "requirements-test.txt"])
def test_pins_cover_what_pyproject_asks_for(name):
    asked = PROJECT["project"]["dependencies"] + PROJECT["build-system"]["requires"]
    if name == "requirements-test.txt":
        asked = asked + PROJECT["project"]["optional-dependencies"]["test"]
    versions = {}
    for pin in map(Requirement, blocks(name)):
        versions.setdefault(canonicalize_name(pin.name), []).append(str(pin.specifier).removeprefix("=="))
    for wish in map(Requirement, asked):
        found = versions.get(canonicalize_name(wish.name), [])
        assert found and all(wish.specifier.contains(version) for version in found), wish
