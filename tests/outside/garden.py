"""Gardens, their plans, and what the program itself says is to be done."""

import datetime
import json
import os
import pathlib
import re
import subprocess

EXAMPLES = sorted(p.parent for p in pathlib.Path("examples").glob("*/garden.yaml"))


class Planned:
    """A garden in a folder of its own, planned."""

    def __init__(self, program, folder, garden_text):
        self.program = program
        self.folder = pathlib.Path(folder)
        self.folder.mkdir(parents=True, exist_ok=True)
        self.plan(garden_text)

    def plan(self, garden_text, *options):
        self.text = garden_text
        (self.folder / "garden.yaml").write_text(garden_text)
        self._run("plan", "--effort", "quick", "--quiet", *options)
        self._chores = None
        plan = json.loads((self.folder / "plan/plan.json").read_text())
        self.start = datetime.date.fromisoformat(plan["start"])
        self.last = datetime.date.fromisoformat(plan["last"])

    @property
    def calendar(self):
        return self.folder / "plan/calendar.ics"

    @property
    def zone(self):
        return re.search(r"timezone: (\S+)", self.text)[1]

    @property
    def days(self):
        return (self.last - self.start).days + 1

    def chores(self):
        """Every chore as (day, summary), by way of the `week` command, not of the calendar."""
        if self._chores is None:
            found = []
            for week in range(0, self.days, 7):
                day = self.start + datetime.timedelta(days=week)
                told = self._run("week", str(day), "--garden", ".", "--json")
                found += [(c["day"], c["summary"]) for c in json.loads(told)["chores"]]
            self._chores = sorted(found)
        return self._chores

    def _run(self, *arguments):
        done = subprocess.run(
            [self.program, *arguments],
            cwd=self.folder,
            check=True,
            capture_output=True,
            text=True,
            env={**os.environ, "NO_COLOR": "1"},
        )
        return done.stdout
