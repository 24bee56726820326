"""Plan, import, change the garden, plan again, import again: nothing doubled, nothing stale."""

import pathlib
import re
import sys

import icalendar
from clients import CalDav, Calcurse, Khal, fresh, radicale
from garden import EXAMPLES, Planned


def changed(text):
    """Other workdays, and less of everything."""
    text = re.sub(r"workdays: \[.*?\]", "workdays: [thu, sun]", text)
    text = re.sub(r"each_week: (\d+) heads", lambda m: f"each_week: {int(m[1]) - 1} heads", text)
    assert "thu, sun" in text
    return text


def holds_the_plan(client, held, garden, cancelled):
    """What is not cancelled is the plan, once; what is cancelled says so and is not the plan."""
    alive = [(day, summary) for day, summary, dead in held if not dead]
    expected = garden.chores()
    missing = sorted(set(expected) - set(alive))[:5]
    extra = sorted(set(alive) - set(expected))[:5]
    assert alive == expected, f"{client}: lacks {missing}, has {extra}"
    dead = [summary for _, summary, dead in held if dead]
    assert all("Cancelled: " in summary for summary in dead), (client, dead[:5])
    assert len(dead) == cancelled, (client, len(dead), cancelled)


def cancelled_in(file):
    events = icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    return sum(event.get("STATUS") == "CANCELLED" for event in events)


def sequences(file):
    events = icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    found = {str(e["UID"]): (int(e["SEQUENCE"]), e["LAST-MODIFIED"].dt, e.to_ical()) for e in events}
    assert len(found) == len(events), "a UID is there twice"
    return found


def only_changes_rise(before, after):
    """SEQUENCE and LAST-MODIFIED rise with the text, and only with it."""
    kept = before.keys() & after.keys()
    same = {uid for uid in kept if before[uid][2] == after[uid][2]}
    for uid in kept - same:
        assert after[uid][0] == before[uid][0] + 1, uid
        assert after[uid][1] > before[uid][1], uid
    return len(kept - same), len(same), len(after.keys() - kept)


def main():
    program, tools, data = sys.argv[1], *map(pathlib.Path, sys.argv[2:])
    with radicale(fresh(data / "radicale-updates")) as address:
        for example in EXAMPLES[:2]:
            name = example.name
            first = (example / "garden.yaml").read_text()
            garden = Planned(program, fresh(data / "updates" / name), first)
            clients = {
                "khal": Khal(fresh(data / "khal-updates" / name), garden.zone),
                "Radicale": CalDav(address, name),
            }
            before = None
            # There, elsewhere, elsewhere once more, and back.
            for turn, text in enumerate([first, changed(first), changed(first), first]):
                garden.plan(text, "--today", str(garden.start))
                cancelled = cancelled_in(garden.calendar)
                now = sequences(garden.calendar)
                if before is not None:
                    updated, same, new = only_changes_rise(before, now)
                    assert turn != 2 or (updated, new) == (0, 0), "nothing changed, yet something did"
                    print(f"{name}, plan {turn + 1}: {same} as before, {updated} updated, {new} new, {cancelled} cancelled")
                before = now
                for client, app in clients.items():
                    app.take(garden.calendar)
                    holds_the_plan(client, app.holds(garden.start, garden.last), garden, cancelled)
        doubling(garden, tools, data)


def doubling(garden, tools, data):
    """calcurse knows no identities: what it takes twice it has twice. README tells it."""
    if not Calcurse.is_there(tools):
        return
    calcurse = Calcurse(fresh(data / "calcurse-updates"), tools, garden.zone)
    calcurse.take(garden.calendar)
    once = calcurse.holds(garden.start, garden.last)
    calcurse.take(garden.calendar)
    twice = calcurse.holds(garden.start, garden.last)
    assert twice == sorted(once + once), "calcurse has learnt not to double: say so in README"
    print("calcurse doubles what it takes twice, as it is known to")


main()
