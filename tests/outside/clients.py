"""Calendar software of other hands. Each lists what it holds as sorted (day, summary)."""

import contextlib
import datetime
import os
import pathlib
import shutil
import socket
import subprocess
import sys
import time

import caldav
import icalendar
import recurring_ical_events

BIN = pathlib.Path(sys.executable).parent


def components(file):
    """A calendar file, parted: each event or task in a calendar of its own, with its zones."""
    whole = icalendar.Calendar.from_ical(file.read_bytes())
    zones = [c for c in whole.subcomponents if c.name == "VTIMEZONE"]
    for component in whole.subcomponents:
        if component.name in ("VEVENT", "VTODO"):
            part = icalendar.Calendar()
            part.add("version", "2.0")
            part.add("prodid", whole["PRODID"])
            part.subcomponents = [*zones, component]
            yield str(component["UID"]), part.to_ical()


def expanded(calendar, first, last):
    """Occurrences by recurring-ical-events."""
    found = recurring_ical_events.of(calendar).between(first, last + datetime.timedelta(days=1))
    days = [(event["DTSTART"].dt, event) for event in found]
    day = lambda start: start.date() if isinstance(start, datetime.datetime) else start
    return sorted((str(day(start)), str(event["SUMMARY"])) for start, event in days)


def python_icalendar(garden):
    calendar = icalendar.Calendar.from_ical(garden.calendar.read_bytes())
    for component in calendar.walk():
        assert not component.errors, (component.name, component.errors)
    return expanded(calendar, garden.start, garden.last)


def ical_js(garden, tools):
    done = subprocess.run(
        ["node", "occurrences.mjs", str(garden.calendar.resolve())],
        cwd=tools,
        check=True,
        capture_output=True,
        text=True,
    )
    return sorted(tuple(line.split("\t")) for line in done.stdout.splitlines())


class Khal:
    """A calendar app of the terminal."""

    def __init__(self, folder, zone):
        self.folder = pathlib.Path(folder)
        (self.folder / "events").mkdir(parents=True)
        self.config = self.folder / "config"
        self.config.write_text(
            f"""[calendars]
[[plan]]
path = {self.folder}/events
type = calendar
[locale]
timeformat = %H:%M
dateformat = %Y-%m-%d
longdateformat = %Y-%m-%d
datetimeformat = %Y-%m-%d %H:%M
longdatetimeformat = %Y-%m-%d %H:%M
local_timezone = {zone}
default_timezone = {zone}
[sqlite]
path = {self.folder}/khal.db
[default]
default_calendar = plan
"""
        )

    def take(self, file):
        self._run("import", "-a", "plan", "--batch", str(file))

    def holds(self, first, last):
        """(day, summary, whether cancelled)"""
        days = f"{(last - first).days + 1}d"
        form = "{start-date}\t{title}\t{status}"
        out = self._run("list", "--day-format", "", "--format", form, str(first), days)
        lines = [line.split("\t") for line in out.splitlines() if line]
        return sorted((day, title, "CANCELLED" in status.upper()) for day, title, status in lines)

    def _run(self, *arguments):
        command = [BIN / "khal", "-c", self.config, *arguments]
        done = subprocess.run(command, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
        # khal warns where it does not take something as it is.
        assert "warning" not in done.stderr.lower(), done.stderr
        return done.stdout


@contextlib.contextmanager
def radicale(folder):
    """A CalDAV server with an account; gives the way in."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    folder = pathlib.Path(folder)
    folder.mkdir(parents=True)
    command = [BIN / "radicale", "--server-hosts", f"127.0.0.1:{port}", "--auth-type", "none"]
    command += ["--storage-filesystem-folder", folder, "--logging-level", "error", "--config", ""]
    server = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    try:
        for _ in range(100):
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
                break
            time.sleep(0.1)
        yield f"http://127.0.0.1:{port}/"
    finally:
        server.terminate()
        server.wait(10)


class CalDav:
    """A calendar on a server, as a CalDAV client keeps it."""

    def __init__(self, address, name):
        self.client = caldav.DAVClient(url=address, username="grower", password="any")
        self.calendar = self.client.principal().make_calendar(name=name, cal_id=name)
        self.known = {}

    def take(self, file):
        """The first file in one piece; later every event that is not as it was, under its UID."""
        parts = dict(components(file))
        if not self.known:
            self._put(self.calendar.url, file.read_bytes())
        # Where the server itself keeps what it was given in one piece.
        places = self._places() if self.known else {}
        for uid, text in parts.items():
            if self.known and self.known.get(uid) != text:
                self._put(places.get(uid, f"{self.calendar.url}{uid}.ics"), text)
        self.known.update(parts)

    def _places(self):
        return {str(e.icalendar_component["UID"]): e.url for e in self.calendar.events()}

    def _put(self, address, text):
        answer = self.client.put(str(address), text, {"Content-Type": "text/calendar"})
        assert answer.status in (201, 204), (address, answer.status)

    def holds(self, first, last):
        """(day, summary, whether cancelled)"""
        found = []
        for event in self.calendar.events():
            calendar = icalendar.Calendar.from_ical(event.data)
            status = [str(c.get("STATUS", "")) for c in calendar.walk("VEVENT")]
            days = expanded(calendar, first, last)
            found += [(day, summary, "CANCELLED" in status) for day, summary in days]
        return sorted(found)


class Calcurse:
    """A calendar app of the terminal that knows no identities."""

    def __init__(self, folder, tools, zone):
        self.program = pathlib.Path(tools) / "debian/usr/bin/calcurse"
        self.folder = pathlib.Path(folder)
        libraries = sorted({str(p.parent) for p in self.program.parents[2].rglob("lib*.so.6")})
        self.env = {**os.environ, "TZ": zone, "LC_ALL": "C.UTF-8"}
        if libraries:
            self.env["LD_LIBRARY_PATH"] = ":".join(libraries)

    @classmethod
    def is_there(cls, tools):
        return (pathlib.Path(tools) / "debian/usr/bin/calcurse").exists()

    def take(self, file):
        told = self._run("-q", "-i", str(file))
        return told

    def holds(self, first, last):
        form = "%m\n"
        forms = [f"--format-{kind}" for kind in ("event", "apt", "recur-event", "recur-apt")]
        arguments = [part for name in forms for part in (name, form)]
        days = str((last - first).days + 1)
        begin = first.strftime("%m/%d/%Y")
        out = self._run("-Q", "--from", begin, "--days", days, *arguments)
        found, day = [], None
        for line in out.splitlines():
            if len(line) == 9 and line[2] == line[5] == "/" and line.endswith(":"):
                day = datetime.datetime.strptime(line, "%m/%d/%y:").date()
            elif line:
                found.append((str(day), line))
        return sorted(found)

    def _run(self, *arguments):
        command = [self.program, "-D", self.folder, "-C", self.folder, *arguments]
        done = subprocess.run(command, env=self.env, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
        return done.stdout


def fresh(path):
    """A folder that does not exist yet."""
    shutil.rmtree(path, ignore_errors=True)
    return path
