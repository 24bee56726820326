// Every occurrence in a calendar file as ical.js reads it: lines of day, TAB, summary.
import { readFileSync } from "node:fs";
import ICAL from "ical.js";

const calendar = new ICAL.Component(ICAL.parse(readFileSync(process.argv[2], "utf8")));
for (const zone of calendar.getAllSubcomponents("vtimezone")) {
  ICAL.TimezoneService.register(zone);
}
for (const component of calendar.getAllSubcomponents("vevent")) {
  const event = new ICAL.Event(component);
  const days = [];
  if (event.isRecurring()) {
    const iterator = event.iterator();
    for (let next = iterator.next(); next; next = iterator.next()) days.push(next);
  } else {
    days.push(event.startDate);
  }
  for (const day of days) {
    console.log(`${day.toString().slice(0, 10)}\t${event.summary}`);
  }
}
