#!/usr/bin/env python3
"""Sets kitwright up on this machine, then builds the site, runs the tests or passes a command on.

Needs nothing but Python and its standard library. Everything it installs goes into the private
folder .venv beside pyproject.toml; deleting that folder undoes it all.

Old Pythons must be able to read this file far enough to be told that they are too old, so it
keeps to the syntax of Python 3.7; tests/test_run.py holds it to that.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
STAMP = VENV / "kitwright-setup.json"
"""What was set up, written last. Present but empty means: a set-up began and did not end."""
PINS = {"build": "requirements.txt", "test": "requirements-test.txt"}
"""The file of pinned versions for each task; the second repeats the first and adds the test tools."""

OLDEST, TOO_NEW = (3, 11), (3, 16)
"""The Pythons that will do: from the first up to, not including, the second."""

WINDOWS = os.name == "nt"
TYPED = "py buildtools\\run.py" if WINDOWS else "python3 buildtools/run.py"

HELP = f"""\
kitwright turns a folder of paper-crafting kits into cutting guides, printables and a searchable site.

  {TYPED} build         set everything up, then build site/ from kits/
  {TYPED} test          set everything up, then run all the tests

The first start downloads what is needed into the folder .venv, which takes a minute or two.
After that each start is immediate and needs no network.

Any other word goes to the kitwright command:

  {TYPED} begin ../my-club               begin an archive of your own, in a folder beside this one
  {TYPED} new 2027-09-harbour-lights     begin a kit from a commented example
  {TYPED} check kits/2027-09-harbour-lights
  {TYPED} preview       look at the site here while you write
  {TYPED} check --help  what a command can do

For those who work on kitwright itself:

  {TYPED} test tests/test_run.py -k stamp     what follows "test" goes to pytest
  {TYPED} pins          work the pinned versions out again; "pins --upgrade" for newer ones

Exit status: 0 all well, 1 something was found, 2 something typed can't be used, 3 this machine lacks something.
"""


class CannotSetUp(Exception):
    """This machine lacks something; the message says what, and what to type."""


def say(words: str) -> None:
    """One line of progress, on stderr so that a command's own output stays clean."""
    print(f"kitwright: {words}", file=sys.stderr, flush=True)


# Python itself


def check_python(version: tuple[int, ...]) -> None:
    """Stops on a Python (major, minor, …) that kitwright can't run on."""
    if OLDEST <= version[:2] < TOO_NEW:
        return
    good = [f"{OLDEST[0]}.{minor}" for minor in range(OLDEST[1], TOO_NEW[1])]
    words = f"This is Python {'.'.join(map(str, version[:3]))}; kitwright needs {', '.join(good[:-1])} or {good[-1]}."
    if version[:2] >= TOO_NEW:
        words += "\nNot all the packages that it needs have a build for newer ones yet."
    for name in reversed(good):
        if shutil.which(f"python{name}"):
            raise CannotSetUp(f"{words}\nPython {name} is on this machine too. Type:\n\n  python{name} buildtools/run.py\n")
    raise CannotSetUp(f"{words}\nTo install one, type:\n\n  {python_install_command()}\n")


def python_install_command() -> str:
    if WINDOWS:
        return "winget install Python.Python.3.13"
    if sys.platform == "darwin":
        return "brew install python@3.13"
    if shutil.which("apt-get"):
        return f"{as_root()}apt-get install python3 python3-venv      (Debian 12, Ubuntu 24.04 or newer)"
    if shutil.which("dnf"):
        return f"{as_root()}dnf install python3.13"
    return "your system's package manager, asking it for Python 3.13"


def as_root() -> str:
    """What goes before a command that only root may run."""
    return "" if WINDOWS or os.geteuid() == 0 else "sudo "


def base_python() -> str:
    """The Python that is running, or the one behind it when a virtual environment is active."""
    return getattr(sys, "_base_executable", None) or sys.executable


def python_typed() -> str:
    """The word that starts this Python; its path where the word would start another, or none."""
    if WINDOWS:
        return "py" if shutil.which("py") else "python"
    path = base_python()
    word = os.path.basename(path)
    found = shutil.which(word)
    return word if found and os.path.realpath(found) == os.path.realpath(path) else path


# The private environment


def program(name: str, windows: bool = WINDOWS) -> Path:
    """A program inside the private environment."""
    return VENV / "Scripts" / f"{name}.exe" if windows else VENV / "bin" / name


def child_environment() -> dict[str, str]:
    """The environment for everything started from here.

    The two PYTHON paths would let another project's packages in. MkDocs' notice about its
    successor says nothing to somebody who builds kits. Packages are compiled as they are first
    loaded, and what that gives has to be kept, else each start would compile them again.
    """
    env = dict(os.environ, NO_MKDOCS_2_WARNING="1", PYTHONUTF8="1")
    for name in ("PYTHONPATH", "PYTHONHOME", "PYTHONDONTWRITEBYTECODE", "__PYVENV_LAUNCHER__"):
        env.pop(name, None)
    return env


def wanted(task: str) -> dict[str, str]:
    """What the stamp must say for `task` to start at once.

    The folder counts since a virtual environment can't be moved. What is set up for the tests
    is set up for building too, so the tests' facts hold all of the build's.
    """
    facts = {"python": f"{version_text()} in {os.path.realpath(sys.base_prefix)}", "folder": str(VENV)}
    files = [ROOT / "pyproject.toml", ROOT / "buildtools" / PINS["build"]]
    if task == "test":
        files.append(ROOT / "buildtools" / PINS["test"])
    for file in files:
        facts[file.name] = hashlib.sha256(file.read_bytes()).hexdigest()
    return facts


def version_text() -> str:
    return ".".join(map(str, sys.version_info[:3]))


def read_stamp() -> dict[str, str] | None:
    """What was set up: None where there is no stamp, empty where a set-up did not end."""
    try:
        facts = json.loads(STAMP.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return None
    except (OSError, ValueError):
        return {}
    return facts if isinstance(facts, dict) else {}


def write_stamp(facts: dict[str, str]) -> None:
    """Whole or not at all, so that an interruption can't leave half a stamp."""
    draft = STAMP.with_suffix(".new")
    draft.write_text(json.dumps(facts, indent=2) + "\n", encoding="utf-8")
    os.replace(draft, STAMP)


def is_ready(want: dict[str, str]) -> bool:
    stamp = read_stamp() or {}
    return want.items() <= stamp.items() and program("python").is_file() and program("kitwright").is_file()


def set_up(task: str) -> None:
    """Makes the private environment fit for `task`; returns at once when it is."""
    want = wanted(task)
    if is_ready(want):
        return
    with one_at_a_time():
        if is_ready(want):
            return
        began = time.monotonic()
        why = reason_to_start_afresh(want)
        if why:
            say(why)
            make_environment()
        write_stamp({})
        install(task)
        write_stamp(want)
        say(f"set up in {time.monotonic() - began:.0f} s; from now on it starts at once")


@contextlib.contextmanager
def one_at_a_time():
    """Holds a second start back while the first still sets up.

    The system drops the lock with the process, however that ends, so none is ever left behind.
    """
    with open(ROOT / ".venv.lock", "w") as file:
        waiting = False
        while True:
            try:
                lock(file)
                break
            except (BlockingIOError, PermissionError):
                if not waiting:
                    say("another start of this script is setting up; waiting for it")
                waiting = True
                time.sleep(0.5)
            except OSError:
                break  # a file system that knows no locks: better unguarded than not at all
        yield


def lock(file) -> None:
    """Raises BlockingIOError (POSIX) or PermissionError (Windows) while another process holds it."""
    if WINDOWS:
        import msvcrt

        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    else:
        import fcntl

        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


def reason_to_start_afresh(want: dict[str, str]) -> str:
    """Why the environment can't be kept and brought up to date; empty where it can."""
    if not VENV.exists():
        return f"making a private environment for Python {version_text()} in .venv"
    stamp = read_stamp()
    if stamp == {}:
        return "the last set-up did not come to its end; making .venv afresh"
    if stamp and stamp.get("folder") != want["folder"]:
        return "this folder has moved; making .venv afresh"
    # An interrupted or half-deleted environment is found out by asking it.
    question = "import os, pip, sys; print('%d.%d.%d' % sys.version_info[:3], 'in', os.path.realpath(sys.base_prefix))"
    try:
        answer = subprocess.run(
            [str(program("python")), "-c", question],
            env=child_environment(),
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
        ).stdout.strip()
    except OSError:
        answer = ""
    if answer != want["python"]:
        return f"this is another Python than before, or .venv is damaged; making it afresh for Python {version_text()}"
    return ""


def make_environment() -> None:
    """Replaces .venv by a new, empty environment."""
    if importlib.util.find_spec("ensurepip") is None:
        package = INSTALLERS["debian"][1]["venv"]
        raise CannotSetUp(
            "This Python comes without the part that makes private environments. Type:\n\n"
            f"  {as_root()}apt-get install {package if shutil.which('apt-get') else 'python3-venv'}\n"
        )
    if VENV.exists():
        shutil.rmtree(VENV)
    made = subprocess.run(
        [base_python(), "-m", "venv", str(VENV)],
        env=child_environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    )
    if made.returncode:
        raise CannotSetUp(f"Python could not make the private environment .venv:\n\n{made.stdout.strip()}\n")


def install(task: str) -> None:
    """The pinned packages, each checked against its hash, and kitwright itself from this folder."""
    pins = ROOT / "buildtools" / PINS[task]
    say(f"installing the packages that {pins.name} pins")
    # Wheels only: nobody who builds kits should need a compiler.
    pip("--require-hashes", "--only-binary", ":all:", "-r", str(pins))
    pip("--no-deps", "--no-index", "--no-build-isolation", "--editable", str(ROOT))


def pip(*words: str) -> None:
    """`pip install` with one running line on a terminal, and pip's own words only when it fails."""
    command = [
        str(program("python")),
        "-m",
        "pip",
        "install",
        "--no-input",
        # A sixth of the room would go to compiled files, and most of them nobody ever loads.
        "--no-compile",
        "--disable-pip-version-check",
        "--no-warn-script-location",
        "--progress-bar",
        "off",
        *words,
    ]
    lines: list[str] = []
    live = sys.stderr.isatty()
    with subprocess.Popen(
        command,
        env=child_environment(),
        cwd=str(ROOT),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        errors="replace",
    ) as child:
        for line in child.stdout:
            lines.append(line)
            if live and line.startswith(("Collecting ", "Installing ")):
                what = line.split("==")[0].split(":")[0].strip()
                print(f"\r  {what:<60.60}", end="", file=sys.stderr, flush=True)
    if live:
        print(f"\r{'':<62}\r", end="", file=sys.stderr, flush=True)
    if child.returncode:
        log = VENV / "kitwright-setup.log"
        log.write_text("".join(lines), encoding="utf-8")
        # The last warning tells why (no network, say), the errors only that.
        telling = [line for line in lines if line.startswith("WARNING")][-1:]
        telling += [line for line in lines if line.startswith("ERROR")]
        words = "\n".join(f"  {line.strip()}" for line in telling or lines[-12:])
        raise CannotSetUp(
            f"pip could not install what kitwright needs:\n\n{words}\n\n"
            "Is this machine online, and is there room on the disk? Then type the same command again;\n"
            f"what was downloaded is kept. The whole of pip's report is in {log.relative_to(ROOT)}"
        )


# What the tests need beyond Python

BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser")
"""The system's own, by what they may be called. The first is Chromium without windows: it draws the same pages with a quarter less of the processor."""


def find_browser() -> str:
    """The Chromium that the tests drive: the one named by KITWRIGHT_CHROMIUM, the system's, or Playwright's own."""
    named = os.environ.get("KITWRIGHT_CHROMIUM") or next(filter(shutil.which, BROWSERS), None)
    if named:
        return shutil.which(named) or ""
    if not program("python").is_file():
        return ""  # not set up yet, so Playwright has brought none
    question = "from playwright.sync_api import sync_playwright as p\nwith p() as x: print(x.chromium.executable_path)"
    answer = subprocess.run(
        [str(program("python")), "-c", question],
        env=child_environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        encoding="utf-8",
    ).stdout.strip()
    return shutil.which(answer) or ""


HOSTS = {"rsync": "rsync", "sftp-server": "openssh-client openssh-sftp-server"}
INSTALLERS = {
    "debian": (
        "apt-get install",
        {
            # Debian keeps this part of Python in a package of its own.
            "venv": f"python{sys.version_info[0]}.{sys.version_info[1]}-venv",
            "chromium": "chromium-headless-shell",
            "poppler": "poppler-utils",
            "libatomic": "libatomic1",
            **HOSTS,
        },
    ),
    "ubuntu": ("apt-get install", {"poppler": "poppler-utils", "libatomic": "libatomic1", **HOSTS}),
    "fedora": ("dnf install", {"poppler": "poppler-utils", "libatomic": "libatomic", "rsync": "rsync", "sftp-server": "openssh-server"}),
    "macos": ("brew install", {"poppler": "poppler", "rsync": "rsync"}),
    "windows": ("winget install", {"poppler": "poppler"}),
}
"""How each system, by what /etc/os-release calls it (or "macos", "windows"), installs what; a name for each part that it has.

Only on Debian is the packaged Chromium one that a script can drive as it comes; elsewhere
Playwright brings its own.
"""


def commands_for(missing: list[str], system: str, windows: bool = WINDOWS) -> list[str]:
    """What to type to get the `missing` ones of "chromium", "poppler", "libatomic", "rsync" and "sftp-server" on `system`."""
    own = f"{program('python', windows).relative_to(ROOT)} -m playwright install chromium"
    installer, names = INSTALLERS.get(system, ("", {}))
    packaged = [names[part] for part in missing if part in names]
    commands = []
    if packaged:
        root = as_root() if installer.startswith(("apt-get", "dnf")) else ""
        commands.append(f"{root}{installer} {' '.join(packaged)}")
    for part in missing:
        if part not in names:
            commands.append(own if part == "chromium" else f"(your package manager's command for {part})")
    return commands


def this_system() -> str:
    if WINDOWS:
        return "windows"
    if sys.platform == "darwin":
        return "macos"
    import platform

    try:
        return platform.freedesktop_os_release()["ID"]
    except OSError:
        return sys.platform


def lacks_libatomic() -> bool:
    """Whether the C library that Playwright's driver needs is missing, as it is on a bare Debian."""
    import ctypes.util

    return sys.platform == "linux" and ctypes.util.find_library("atomic") is None


SFTP_SERVERS = ("/usr/lib/openssh/sftp-server", "/usr/libexec/openssh/sftp-server", "/usr/libexec/sftp-server", "/usr/lib/ssh/sftp-server")


def find_sftp_server() -> str:
    """OpenSSH's SFTP server, which the tests take for a host; empty where there is none."""
    return next((file for file in SFTP_SERVERS if Path(file).exists()), "")


def missing_programs(browser: str) -> list[str]:
    """What the tests need beside Python and is not here, by the names that `commands_for` knows."""
    found = {"libatomic": not lacks_libatomic(), "chromium": browser, "poppler": shutil.which("pdftoppm")}
    found |= {"rsync": shutil.which("rsync"), "sftp-server": shutil.which("sftp") and find_sftp_server()}
    return [part for part in found if not found[part]]


def as_root_unasked() -> list[str] | None:
    """The words that make the next ones root's with no question; None where that can't be."""
    if WINDOWS:
        return None
    if os.geteuid() == 0:
        return []
    sudo = shutil.which("sudo")
    if (
        sudo
        and not subprocess.run(
            [sudo, "-n", "true"], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        ).returncode
    ):
        return [sudo, "-n"]
    return None


def provide(meanwhile) -> None:
    """On a Debian that lets us, installs what the tests still need, by name, and does `meanwhile` beside it: both wait for the network and the disk.

    Elsewhere it does that alone: `make_environment` and `test_environment` then say what to type.
    """
    from concurrent.futures import ThreadPoolExecutor

    missing, install = lacking_on_debian()
    if missing:
        packages = " ".join(INSTALLERS["debian"][1][part] for part in missing).split()
        say(f"installing {' '.join(packages)} with apt-get, which the tests need")
        install("update")
    if missing[:1] == ["venv"]:
        # Without it there is nothing that could be done meanwhile.
        install("install", missing.pop(0))
        importlib.invalidate_caches()
    if not missing:
        meanwhile()
        return
    with ThreadPoolExecutor(1) as beside:
        installed = beside.submit(install, "install", *missing)
        meanwhile()
        installed.result()


def lacking_on_debian():
    """What apt-get is to install, in the order in which it is needed, and how; nothing where that is not ours to do."""
    apt = shutil.which("apt-get")
    if not apt or this_system() != "debian":
        return [], None
    missing = missing_programs(find_browser())
    if os.environ.get("KITWRIGHT_CHROMIUM"):
        # Whoever names a browser wants no other; a name that leads nowhere is told.
        missing = [part for part in missing if part != "chromium"]
    if importlib.util.find_spec("ensurepip") is None and not is_ready(wanted("test")):
        missing.insert(0, "venv")
    root = as_root_unasked() if missing else None
    if root is None:
        return [], None
    # Mirrors and other package jobs can be busy for a moment: try again, and wait for the lock.
    command = [*root, "env", "DEBIAN_FRONTEND=noninteractive", apt, "-qq", "-o", "Acquire::Retries=3", "-o", "DPkg::Lock::Timeout=300"]
    names = INSTALLERS["debian"][1]
    every = " ".join(names[part] for part in missing)

    def install(task, *parts):
        packages = " ".join(names[part] for part in parts).split()
        done = subprocess.run(
            [*command, task, *(["--yes", "--no-install-recommends"] if packages else []), *packages],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
        )
        if done.returncode:
            told = "\n".join(f"  {line.strip()}" for line in done.stdout.splitlines()[-12:])
            raise CannotSetUp(
                f"apt-get could not install what the tests need:\n\n{told}\n\n"
                "Is this machine online? Then type the same command again, or this one:\n\n"
                f"  {as_root()}apt-get install {every}\n"
            )

    return missing, install


def test_environment() -> dict[str, str]:
    """The tests' environment, which names the browser; stops where something is missing."""
    browser = find_browser()
    missing = missing_programs(browser)
    if missing:
        typed = "\n  ".join(commands_for(missing, this_system()))
        raise CannotSetUp(f"The tests look at real pages and still need {', '.join(missing)}. Type:\n\n  {typed}\n")
    return dict(child_environment(), KITWRIGHT_CHROMIUM=browser)


# For those who change the dependencies


def pins(*words: str) -> int:
    """Works both files of pins out again from pyproject.toml; `words` go to uv."""
    import tomllib

    uv = shutil.which("uv") or shutil.which(str(program("uv")))
    if not uv:
        raise CannotSetUp(f"Pins are worked out by uv. Type:\n\n  {program('python').relative_to(ROOT)} -m pip install uv\n")
    with open(ROOT / "pyproject.toml", "rb") as file:
        builder = "\n".join(tomllib.load(file)["build-system"]["requires"])
    # The larger file first: the smaller one must not choose a version that the tests then can't have.
    everything, runtime = (str(Path("buildtools") / PINS[task]) for task in ("test", "build"))
    for target, more in ((everything, ["--extra", "test"]), (runtime, ["--constraint", everything])):
        say(f"working out {target}")
        done = subprocess.run(
            [
                uv,
                "pip",
                "compile",
                "pyproject.toml",
                "-",
                "--quiet",
                "--universal",
                "--python-version",
                ".".join(map(str, OLDEST)),
                "--only-binary",
                ":all:",
                "--generate-hashes",
                "--no-emit-index-url",
                "--no-emit-find-links",
                "--no-annotate",
                "--custom-compile-command",
                "python3 buildtools/run.py pins",
                "--output-file",
                target,
                *more,
                *words,
            ],
            cwd=str(ROOT),
            env=child_environment(),
            input=builder,
            encoding="utf-8",
            stdout=subprocess.DEVNULL,
        )
        if done.returncode:
            return done.returncode
    return 0


# Starting


def hand_over(command: list[str], env: dict[str, str]) -> int:
    """Becomes `command`, or runs it to its end where a process can't become another."""
    sys.stdout.flush()
    if not WINDOWS:
        os.execve(command[0], command, env)
    with subprocess.Popen(command, env=env) as child:
        while True:
            try:
                return child.wait()
            except KeyboardInterrupt:
                pass  # Ctrl-C reached the command too, which ends in its own way


def start(words: list[str]) -> int:
    if not words or words[0] in ("help", "--help", "-h"):
        print(HELP, end="")
        return 0
    check_python(tuple(sys.version_info[:3]))
    if words[0] == "pins":
        return pins(*words[1:])
    if words[0] == "test":
        provide(lambda: set_up("test"))
        env = test_environment()
        os.chdir(ROOT)
        # Three, for two cores: who waits for a browser or a host leaves its core to another. Each takes tests that stand
        # together, so that what a file of tests makes for itself is made once.
        return hand_over([str(program("python")), "-m", "pytest", "-n", "3", "--dist", "worksteal", *words[1:]], env)
    set_up("build")
    # So that a command can tell which other to type, wherever she stands.
    started = json.dumps([python_typed(), str(ROOT / "buildtools" / "run.py")])
    return hand_over([str(program("kitwright")), *words], dict(child_environment(), KITWRIGHT_STARTED=started))


def main(words: list[str]) -> int:
    try:
        return start(words)
    except CannotSetUp as problem:
        print(f"\n{problem}", file=sys.stderr)
        return 3
    except OSError as problem:
        print(
            f"\nThe set-up could not go on: {problem}\n"
            "Close what may be using the folder .venv, or delete that folder, and type the same command again.",
            file=sys.stderr,
        )
        return 3
    except KeyboardInterrupt:
        print("\nStopped. The same command takes it up again.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
