"""What the programs of this folder share: processes measured, the machine named, median and spread told."""

import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
import time


def processor():
    lines = pathlib.Path("/proc/cpuinfo").read_text().splitlines()
    return next((line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")), "unknown processor")


def load():
    return f"{os.getloadavg()[0]:.1f}"


def energy_uj():
    """Of the processor packages so far, or None: many machines, and most virtual ones, do not tell."""
    try:
        counters = [p / "energy_uj" for p in pathlib.Path("/sys/class/powercap").glob("intel-rapl:?")]
        return sum(int(c.read_text()) for c in counters) if counters else None
    except OSError:
        return None


def spread(values, digits=2):
    return f"{statistics.median(values):.{digits}f} ({min(values):.{digits}f}-{max(values):.{digits}f})"


def greatest_resident_mb(pid):
    """Of the program that runs now: the count of wait4 would include this one's, from which it was forked."""
    try:
        status = pathlib.Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return 0.0
    return next((float(line.split()[1]) / 1024 for line in status.splitlines() if line.startswith("VmHWM")), 0.0)


class Ran:
    """One process, or the last of a pipe: wall and processor time in s, greatest resident size in MB."""

    def __init__(self, command, stdin=None, codes=(0,), **options):
        options.setdefault("stdout", subprocess.DEVNULL)
        self.resident_mb = 0.0
        ended = threading.Event()
        begin = time.perf_counter()
        process = subprocess.Popen(list(map(str, command)), stdin=stdin, **options)
        if stdin is not None:
            stdin.close()

        def watch():
            while not ended.wait(0.01):
                self.resident_mb = max(self.resident_mb, greatest_resident_mb(process.pid))

        watcher = threading.Thread(target=watch)
        watcher.start()
        _, status, usage = os.wait4(process.pid, 0)
        self.wall_s = time.perf_counter() - begin
        ended.set()
        watcher.join()
        process.returncode = os.waitstatus_to_exitcode(status)
        self.user_s, self.system_s = usage.ru_utime, usage.ru_stime
        self.processor_s = usage.ru_utime + usage.ru_stime
        if process.returncode not in codes:
            sys.exit(f"{command[0]} {command[1]} ended with {process.returncode}")


def forget_files(folder):
    """Out of the system's cache, as after a start of the machine, as far as the system does what it is asked."""
    os.sync()
    for path in pathlib.Path(folder).rglob("*"):
        if path.is_file():
            handle = os.open(path, os.O_RDONLY)
            os.posix_fadvise(handle, 0, 0, os.POSIX_FADV_DONTNEED)
            os.close(handle)


def work_folder():
    """A new folder, where BECALM_BENCH_DIR says so or among the temporary ones; removed at the end."""
    return tempfile.TemporaryDirectory(prefix="becalm-bench-", dir=os.environ.get("BECALM_BENCH_DIR"))


def generator(folder):
    """The program that sends samples (year_stream.cpp), compiled into the folder."""
    program = pathlib.Path(folder) / "year_stream"
    compiler = os.environ.get("CXX") or shutil.which("c++") or shutil.which("clang++")
    if not compiler:
        sys.exit("a C++ compiler is needed for year_stream.cpp")
    source = pathlib.Path(__file__).parent / "year_stream.cpp"
    subprocess.run([compiler, "-O3", "-std=c++20", str(source), "-o", str(program)], check=True)
    return program
