"""All examples' calendars, and one of two years, in every client: the same events on the same
days under the same summaries as the program's own list of chores."""

import pathlib
import re
import sys

from clients import CalDav, Calcurse, Khal, fresh, ical_js, python_icalendar, radicale
from garden import EXAMPLES, Planned


def gardens(program, folder):
    texts = {example.name: (example / "garden.yaml").read_text() for example in EXAMPLES}
    shelf = texts["attic-shelf"]
    two_years = re.sub(r"weeks: \d+", "weeks: 104", shelf)
    away = "away: [{ from: 2027-07-05, until: 2027-07-18 }, { from: 2028-03-06, until: 2028-03-12 }]"
    texts["two-years"] = re.sub(r"( +)(workdays: .*)", rf"\1\2\n\1{away}", two_years, count=1)
    # The same, all day instead of at a time, and in Spanish.
    all_day = re.sub(r" +remind_at: .*\n", "", texts["two-years"])
    texts["two-years-all-day"] = "language: es\n" + all_day
    for name, text in texts.items():
        yield name, Planned(program, folder / name, text)


def by_khal(garden, data):
    khal = Khal(fresh(data / "khal"), garden.zone)
    khal.take(garden.calendar)
    return [(day, summary) for day, summary, _ in khal.holds(garden.start, garden.last)]


def by_calcurse(garden, tools, data):
    calcurse = Calcurse(fresh(data / "calcurse"), tools, garden.zone)
    calcurse.take(garden.calendar)
    return calcurse.holds(garden.start, garden.last)


def same(name, client, expected, found):
    missing = sorted(set(expected) - set(found))[:5]
    extra = sorted(set(found) - set(expected))[:5]
    assert found == expected, f"{name} in {client}: lacks {missing}, has {extra}"


def main():
    program, tools, data = sys.argv[1], *map(pathlib.Path, sys.argv[2:])
    with radicale(fresh(data / "radicale-examples")) as address:

        def by_radicale(garden):
            calendar = CalDav(address, garden.folder.name)
            calendar.take(garden.calendar)
            return [(d, s) for d, s, _ in calendar.holds(garden.start, garden.last)]

        clients = {
            "icalendar and recurring-ical-events": python_icalendar,
            "ical.js": lambda garden: ical_js(garden, tools),
            "khal": lambda garden: by_khal(garden, data),
            "Radicale": by_radicale,
        }
        if Calcurse.is_there(tools):
            clients["calcurse"] = lambda garden: by_calcurse(garden, tools, data)
        for name, garden in gardens(program, data / "gardens"):
            expected = garden.chores()
            series = garden.calendar.read_text().count("\nRRULE:")
            for client, read in clients.items():
                same(name, client, expected, read(garden))
            print(f"{name}: {len(expected)} chores, {series} series, alike in {len(clients)} clients")
            if name.startswith("two-years"):
                assert series > 0, "nothing repeats in two years"


main()
