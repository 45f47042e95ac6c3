"""Start here: makes the program's own Python environment, then runs what you ask for.

    python3 go.py demo              the example family, checked, with its templates, in out/whinchat
    python3 go.py test              the everyday tests; --all adds the long ones; more words go to pytest
    python3 go.py ready             everything a change must pass: format, lint, types, layers, all tests
    python3 go.py check FILE        any other word is a command of sparwright; --help lists them

On Windows write `py go.py demo`. The standard library is enough to start; the first start installs what
requirements.lock names, by hash, into .venv, with uv when it is on the path and with pip when it is not.
The program itself is not installed: a .pth file in .venv points at src, with a relative path. That needs no
network and no build tool, survives odd letters in folder names, and an edited file counts at once.

Exit codes are those of the command. 4: the environment could not be made; the sentence says why.

This file must parse on Python 3.6, so that an old Python gets a sentence and not a syntax error.
"""

import contextlib
import glob
import hashlib
import os
import platform
import shutil
import subprocess
import sys

OLDEST = (3, 11)
HERE = os.path.dirname(os.path.abspath(__file__))
VENV = os.path.join(HERE, ".venv")
LOCK = os.path.join(HERE, "requirements.lock")
MARK = os.path.join(VENV, "made-from")  # written last: without it, or with other words in it, .venv is made again
BUSY = os.path.join(HERE, ".venv.lock")  # held, by the system's file lock, while .venv is being made
LOG = os.path.join(HERE, ".venv-install.log")
NOT_READY = 4

FAULTS = (  # words of uv, pip and the systems -> one sentence; the first row with a match counts
    (("no space left", "os error 28", "os error 112", "not enough space", "disk quota exceeded", "errno 28"),
     "The disk is full: the installation needs about 1 GB in {venv}. Make room and start again."),
    (("do not match the hashes", "hash mismatch", "hashes are required"),
     "A downloaded package is not the one requirements.lock names (its hash differs), so it was not installed. "
     "Start again; if that does not help, the package index or a proxy in between is serving something else."),
    (("name resolution", "getaddrinfo", "nodename nor servname", "newconnectionerror", "new connection", "dns error",
      "failed to lookup address", "network is unreachable", "no route to host", "connection refused", "timed out",
      "max retries exceeded", "error sending request", "proxyerror", "connection broken", "could not connect",
      "certificate_verify_failed", "sslerror", "connection reset", "failed to fetch"),
     "The package index cannot be reached. The first start needs the network once (later starts do not): "
     "connect, or set your proxy, and start again."),
    (("no matching distribution", "could not find a version", "no wheels", "no compatible wheel", "no solution found"),
     "A package that requirements.lock names has no ready-made build for Python {python} on this {system} "
     "({machine}). Try another Python, {oldest} or newer."),
    (("ensurepip", "no module named venv", "no module named pip", "python3-venv"),
     "This Python cannot make environments: its venv or ensurepip module is missing. On Debian and Ubuntu "
     "`apt install python3-venv` brings it; elsewhere install Python from python.org. Then start again."),
    (("permission denied", "access is denied", "read-only file system", "errno 13", "errno 30"),
     "Writing in {here} is not allowed, so the environment cannot be made there. Move the folder to a place of "
     "your own and start again."),
)  # fmt: skip
UNNAMED = "The installation stopped for a reason we have no sentence for; the installer's last words are above."


class NotReady(Exception):
    """The environment cannot be made; the message is a sentence for the person."""


def main(words):
    """Run what `words` ask for; gives the exit code."""
    if sys.version_info < OLDEST:
        return say_old()
    if not words or words[0] in ("-h", "--help"):
        print(__doc__.split("\n\nOn Windows")[0])
        return 0 if words else 2
    try:
        python = ready_python()
    except NotReady as fault:
        print(fault, file=sys.stderr)
        return NOT_READY
    except KeyboardInterrupt:
        print("Stopped. The next start begins the installation again.", file=sys.stderr)
        return 130
    os.environ["NUMBA_CACHE_DIR"] = kernels()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # many small matrices: more threads wait for each other
    if words[0] == "test":
        return become([python, *tests(words[1:])])
    if words[0] == "ready":
        return everything(python, words[1:])
    os.environ["SPARWRIGHT_AS"] = "{} {}".format("py" if os.name == "nt" else "python3", os.path.basename(__file__))
    return become([python, "-m", "sparwright", *words])


def kernels():
    """The folder for the compiled kernels of these sources; those of other sources go."""
    home, now = os.path.join(HERE, ".venv", "kernels"), state_of_kernels()
    if os.path.isdir(home):
        for old in os.listdir(home):
            if old != now:
                shutil.rmtree(os.path.join(home, old), ignore_errors=True)
    return os.path.join(home, now)


def state_of_kernels():
    """A name for what the compiled kernels are made of. Numba looks only at the file a kernel stands in, not at those
    it calls, so each state of the room gets a folder of its own."""
    mixed = hashlib.sha256()
    for path in sorted(glob.glob(os.path.join(HERE, "src", "sparwright", "air", "**", "*.py"), recursive=True)):
        with open(path, "rb") as file:
            mixed.update(file.read())
    return mixed.hexdigest()[:16]


def tests(words):
    """The words for Python that run the tests on all cores: the everyday ones, or with --all the long ones too."""
    mark = [] if "--all" in words else ["-m", "not long"]
    return ["-m", "pytest", "-n", "auto", *mark, *(w for w in words if w != "--all")]


def everything(python, words):
    """Format, lint, types, then all tests (the layer tests are among them), or those that further words choose; gives
    the number of steps that failed."""
    steps = (
        ("format", ["-m", "ruff", "format", "--check", "."]),
        ("lint", ["-m", "ruff", "check", "."]),
        ("types", ["-m", "mypy"]),
        ("tests", tests(["--all", *words])),
    )
    failed = []
    for name, words in steps:
        print("--- " + name, flush=True)
        if subprocess.call([python, *words], cwd=HERE):
            failed.append(name)
    print("Ready to hand in." if not failed else "Not ready: " + ", ".join(failed) + ".")
    return len(failed)


def become(command):
    """Turn into the command, so that signals and the exit code are its own; Windows has to wait for a child."""
    if os.name != "nt":
        os.execv(command[0], command)
    with contextlib.suppress(KeyboardInterrupt):  # the child gets Ctrl-C too and says so itself
        return subprocess.call(command)
    return 130


def say_old():
    """The sentence for an old Python, naming a newer one when the path has it."""
    names = ["python3.%d" % minor for minor in range(20, OLDEST[1] - 1, -1)]
    newer = next((name for name in names if shutil.which(name)), "")
    print(
        "Sparwright needs Python {}.{} or newer; this is Python {} ({}). {}".format(
            OLDEST[0], OLDEST[1], platform.python_version(), sys.executable,
            "This machine has one: start with `%s go.py`." % newer if newer else
            "Install one from python.org or your system's packages and start with it.",
        ),
        file=sys.stderr,
    )  # fmt: skip
    return NOT_READY


def ready_python():
    """The environment's Python, made first when it is not there or was made from another lock or Python."""
    python = os.path.join(VENV, "Scripts" if os.name == "nt" else "bin", "python.exe" if os.name == "nt" else "python")
    try:
        wanted = stamp()
        if is_made(python, wanted):
            return python
        with alone():
            if not is_made(python, wanted):  # another start may have made it while this one waited
                make(python, wanted)
    except (OSError, subprocess.CalledProcessError) as fault:
        raise NotReady(sentence("%s" % fault, UNNAMED + " (%s)" % fault)) from fault
    return python


def stamp():
    """What the environment is made from: this file's recipe, the lock, the Python, the place."""
    digest = hashlib.sha256()
    for path in (__file__, LOCK):
        with open(path, "rb") as file:
            digest.update(file.read())
    base = getattr(sys, "_base_executable", None) or sys.executable
    return "\n".join([digest.hexdigest(), sys.version, platform.machine(), os.path.realpath(base), HERE, ""])


def is_made(python, wanted):
    """Whether .venv is whole and made from what is wanted."""
    try:
        with open(MARK, encoding="utf-8") as file:
            return file.read() == wanted and os.path.exists(python)
    except (OSError, ValueError):
        return False


@contextlib.contextmanager
def alone():
    """Hold the system's file lock, so that two starts at once do not make .venv together.

    The system lets go of it when a process dies, so an interrupted start leaves nothing to clean up.
    """
    with open(BUSY, "a+b") as file:
        if os.name == "nt":
            import msvcrt
            import time

            while True:
                file.seek(0)
                with contextlib.suppress(OSError):
                    msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
                    break
                time.sleep(0.5)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX)
        yield  # closing the file lets go


def make(python, wanted):
    """Make .venv from the lock, the mark last."""
    print("First start, or the lock or the Python changed: installing into .venv, about a minute ...", file=sys.stderr)
    with contextlib.suppress(FileNotFoundError):
        os.remove(MARK)
    uv = shutil.which("uv")
    fault = install_with_uv(uv, python) if uv else "there is no uv"
    if fault:
        second = install_with_pip(python)
        if second:
            raise NotReady(explain(fault + "\n" + second if uv else second))
    link(python)
    with open(MARK, "w", encoding="utf-8") as file:
        file.write(wanted)
    with contextlib.suppress(OSError):
        os.remove(LOG)


def install_with_uv(uv, python):
    """Empty for success, else what uv said."""
    return first_fault(
        [uv, "venv", "--quiet", "--clear", "--no-project", "--python", sys.executable, VENV],
        [uv, "pip", "install", "--quiet", "--python", python, "--only-binary", ":all:", "--require-hashes", "-r", LOCK],
    )


def install_with_pip(python):
    """Empty for success, else what venv or pip said."""
    return first_fault(
        [sys.executable, "-m", "venv", "--clear", VENV],
        [python, "-m", "pip", "install", "--disable-pip-version-check", "--no-input", "--only-binary", ":all:",
         "--require-hashes", "-r", LOCK],
    )  # fmt: skip


def first_fault(*commands):
    """Run the commands until one fails; gives its output, or nothing when all went well."""
    for command in commands:
        env = dict(os.environ, PYTHONUTF8="1")
        env.pop("PYTHONPATH", None)
        done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=env)
        if done.returncode:
            said = done.stdout.decode("utf-8", "replace").strip()
            return said or "%s ended with code %d and no word" % (os.path.basename(command[0]), done.returncode)
    return ""


def explain(said):
    """One sentence for what the installer said; when we have none, its last lines and a sentence that says so."""
    known = sentence(said, "")
    if not known:
        return "\n".join(said.splitlines()[-12:]) + "\n" + UNNAMED
    try:
        with open(LOG, "w", encoding="utf-8", errors="replace") as file:
            file.write(said)
    except OSError:
        return known
    return known + " (What the installer said is in %s.)" % os.path.basename(LOG)


def sentence(said, otherwise):
    """The sentence of the first row of FAULTS that has a word in `said`."""
    low = said.lower()
    for words, text in FAULTS:
        if any(word in low for word in words):
            return text.format(venv=VENV, here=HERE, python=platform.python_version(), system=platform.system(),
                               machine=platform.machine(), oldest="%d.%d" % OLDEST)  # fmt: skip
    return otherwise


def link(python):
    """Point the environment at src: one relative line in a .pth file."""
    ask = [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    place = subprocess.run(ask, stdout=subprocess.PIPE, check=True).stdout.decode("utf-8", "surrogateescape").strip()
    with open(os.path.join(place, "sparwright.pth"), "w", encoding="ascii") as file:
        file.write(os.path.relpath(os.path.join(HERE, "src"), place).replace(os.sep, "/") + "\n")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
