//! When the grower tends the rig, and the intervals that the plan keeps.

use std::cell::RefCell;

use chrono::{NaiveTime, Weekday};

use crate::garden::bounds::{self, Bounds};
use crate::garden::{Absence, DeepClean, Rhythm, Spacing};
use crate::reader::decode::{Fields, KeyedValue, all};
use crate::reader::suggestion::any_of;
use crate::text::Language;
use crate::units::{Days, Share};

const WEEK: [Weekday; 7] = [
    Weekday::Mon,
    Weekday::Tue,
    Weekday::Wed,
    Weekday::Thu,
    Weekday::Fri,
    Weekday::Sat,
    Weekday::Sun,
];

/// The rhythm where none is stated: Wednesday and Saturday, a deep clean every half year.
pub(super) fn usual() -> Rhythm {
    Rhythm {
        workdays: vec![Weekday::Wed, Weekday::Sat],
        away: Vec::new(),
        remind_at: None,
        alarm: None,
        deep_clean: Some(USUAL_CLEAN),
        change_solution: Days::days(14.0),
    }
}

const USUAL_CLEAN: DeepClean = DeepClean {
    every: Days::days(26.0 * 7.0),
    slack: Days::days(4.0 * 7.0),
};

/// The `rhythm` of a garden.
pub(super) fn read(entry: KeyedValue<'_>) -> Option<Rhythm> {
    let usual = usual();
    let f = entry.fields("the rhythm", "rhythm: { workdays: [wed, sat] }")?;
    let workdays = f.or("workdays", usual.workdays, workdays);
    let away = f.or("away", usual.away, away);
    let remind_at = f.optional("remind_at", time_of_day);
    let alarm = f.optional("alarm", |e| e.quantity(&bounds::ALARM));
    let deep_clean = f.or("deep_clean", usual.deep_clean, deep_clean);
    let change_solution = f.or("change_solution", usual.change_solution, |e| {
        whole_days(e, &bounds::CHANGE_SOLUTION)
    });
    f.finish();
    Some(Rhythm {
        workdays: workdays?,
        away: away?,
        remind_at: remind_at?,
        alarm: alarm?,
        deep_clean: deep_clean?,
        change_solution: change_solution?,
    })
}

fn workdays(entry: KeyedValue<'_>) -> Option<Vec<Weekday>> {
    let seen = RefCell::new(Vec::new());
    let mut days = entry.each("workdays: [wed, sat]", |e| {
        let day = weekday(e)?;
        if seen.borrow().contains(&day) {
            return e.wrong(
                format!("`{}` is in this list twice", e.raw()),
                "the second time",
                "once is enough",
            );
        }
        seen.borrow_mut().push(day);
        Some(day)
    })?;
    days.sort_by_key(Weekday::num_days_from_monday);
    Some(days)
}

/// A day of the week, in short or in full, in any language of the program.
fn weekday(entry: KeyedValue<'_>) -> Option<Weekday> {
    let others = Language::all().filter(|language| *language != Language::ENGLISH);
    let (mut words, mut short) = (Vec::new(), Vec::new());
    for language in std::iter::once(Language::ENGLISH).chain(others) {
        let names = WEEK.map(|day| (language.weekday_names(day), day));
        let of_language = names.iter().map(|([short, _], _)| short.to_lowercase());
        short.push(of_language.collect::<Vec<_>>());
        words.extend(
            names
                .into_iter()
                .flat_map(|([short, long], day)| [(short.to_lowercase(), day), (long, day)]),
        );
    }
    let short = short
        .iter()
        .map(|days| any_of(days.iter().map(String::as_str)));
    let all = format!(
        "it is one of {}",
        short.collect::<Vec<_>>().join(", or of ")
    );
    let words: Vec<(&str, Weekday)> = words
        .iter()
        .map(|(word, day)| (word.as_str(), *day))
        .collect();
    entry.choice_with_help(&words, &all)
}

fn away(entry: KeyedValue<'_>) -> Option<Vec<Absence>> {
    const EXAMPLE: &str = "- { from: 2027-08-02, until: 2027-08-15 }";
    let seen: RefCell<Vec<Absence>> = RefCell::new(Vec::new());
    let items = entry.items_or_none(EXAMPLE)?.into_iter().map(|e| {
        let absence = absence(e, EXAMPLE)?;
        let other = seen.borrow().iter().copied().find(|o| overlap(*o, absence));
        if let Some(other) = other {
            return e.wrong(
                "two absences overlap",
                format!("already away from {} until {}", other.from, other.until),
                "make one of the two",
            );
        }
        seen.borrow_mut().push(absence);
        Some(absence)
    });
    let mut absences = all(items)?;
    absences.sort_by_key(|a| a.from);
    Some(absences)
}

fn overlap(a: Absence, b: Absence) -> bool {
    a.from <= b.until && b.from <= a.until
}

fn absence(entry: KeyedValue<'_>, example: &str) -> Option<Absence> {
    let f = entry.fields("this absence", example)?;
    let from = f.required("from", "from: 2027-08-02", |e| e.date());
    let until = f.required("until", "until: 2027-08-15", |e| e.date());
    let backwards = from.is_some_and(|from| until.is_some_and(|until| until < from));
    if backwards {
        f.wrong(
            "until",
            "this absence ends before it begins",
            "earlier than `from`",
            "`from` is the first day away, `until` the last",
        );
    }
    f.finish();
    (!backwards).then_some(())?;
    Some(Absence {
        from: from?,
        until: until?,
    })
}

fn time_of_day(entry: KeyedValue<'_>) -> Option<NaiveTime> {
    const FORM: &str = "write hours and minutes like `\"08:00\"`, up to `\"23:59\"`";
    let text = entry.text_or(FORM)?;
    let time = (text.len() == 5)
        .then(|| NaiveTime::parse_from_str(text, "%H:%M").ok())
        .flatten();
    time.or_else(|| entry.wrong(format!("`{}` is not a time of day", entry.raw()), "", FORM))
}

fn deep_clean(entry: KeyedValue<'_>) -> Option<Option<DeepClean>> {
    if !entry.is_group() {
        return entry.choice(&[("none", ())]).map(|()| None);
    }
    let f = entry.fields("deep cleaning", "deep_clean: { every: 26 weeks }")?;
    let every = f.or("every", USUAL_CLEAN.every, |e| {
        whole_days(e, &bounds::CLEAN_EVERY)
    });
    // A short interval leaves less to move in than the usual slack.
    let usual_slack = every.map_or(USUAL_CLEAN.slack, |every| {
        let most = (every.get() / 4.0).floor();
        Days::days(USUAL_CLEAN.slack.get().min(most))
    });
    let slack = f.or("slack", usual_slack, |e| {
        whole_days(e, &bounds::CLEAN_SLACK)
    });
    if let (Some(every), Some(slack)) = (every, slack)
        && slack.get() * 2.0 >= every.get()
    {
        f.wrong(
            "slack",
            "the slack of deep cleaning is too long for its interval",
            "less than half of `every`",
            format!(
                "`every` is {every}: the slack is less than {}",
                Days::days(every.get() / 2.0)
            ),
        );
    }
    f.finish();
    Some(Some(DeepClean {
        every: every?,
        slack: slack?,
    }))
}

/// A span of days without a part of one.
fn whole_days(entry: KeyedValue<'_>, within: &Bounds<Days>) -> Option<Days> {
    let days: Days = entry.quantity(within)?;
    if days.get().fract() != 0.0 {
        return entry.wrong(
            format!("{} is not a whole number of days", entry.raw()),
            "",
            "the plan goes by whole days",
        );
    }
    Some(days)
}

/// The spacing where none is stated.
pub(super) fn usual_spacing() -> Spacing {
    Spacing {
        neighbours_apart: Days::days(7.0),
        crowding: Share::fraction(0.1),
        changeover: Days::days(0.0),
    }
}

/// The `spacing` of a garden.
pub(super) fn spacing(entry: KeyedValue<'_>) -> Option<Spacing> {
    let usual = usual_spacing();
    let f = entry.fields("the spacing", "spacing: { neighbours_apart: 7 days }")?;
    let neighbours_apart = f.or("neighbours_apart", usual.neighbours_apart, |e| {
        whole_days(e, &bounds::NEIGHBOURS_APART)
    });
    let crowding = f.or("crowding", usual.crowding, |e| {
        e.quantity(&bounds::CROWDING)
    });
    let changeover = f.or("changeover", usual.changeover, |e| {
        whole_days(e, &bounds::CHANGEOVER)
    });
    f.finish();
    Some(Spacing {
        neighbours_apart: neighbours_apart?,
        crowding: crowding?,
        changeover: changeover?,
    })
}

/// Tells of reminders at a time of day in no time zone.
pub(super) fn check_timezone(top: &Fields<'_>, rhythm: &Rhythm) {
    if rhythm.remind_at.is_some() && !top.has_inside("place", "timezone") {
        top.wrong(
            "place",
            "reminders at a time of day need the place's time zone",
            "`timezone` is missing here",
            "add it, for instance `timezone: Europe/Madrid`, or leave out `remind_at`",
        );
    }
}
