//! The plain data that comes out, read as anybody would, against the plan and its sums.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, NaiveDate};
use serde_json::Value;
use steadyleaf::plan::Plan;

/// What is amiss in `plan.json` and in the summary that `plan --json` prints.
pub fn faults_in_data(plan_json: &str, summary: &Value, plan: &Plan) -> Vec<String> {
    let mut faults = Vec::new();
    match serde_json::from_str(plan_json) {
        Ok(told) => rows(&told, plan, &mut faults),
        Err(why) => faults.push(format!("data: {why}")),
    }
    sums(summary, plan, &mut faults);
    faults
}

pub(super) fn day(value: &Value) -> Option<NaiveDate> {
    value.as_str()?.parse().ok()
}

pub(super) fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

/// Rows of `plan.json`: stays, tubes scrubbed, weeks and water, each summed anew from the stays.
fn rows(told: &Value, plan: &Plan, faults: &mut Vec<String>) {
    let stays = list(told, "stays");
    if stays.len() != plan.stays.len() {
        faults.push(format!(
            "data: {} stays of {}",
            stays.len(),
            plan.stays.len()
        ));
    }
    let mut weeks: BTreeMap<(String, NaiveDate), f64> = BTreeMap::new();
    for (row, stay) in stays.iter().zip(&plan.stays) {
        let harvests = list(row, "harvests");
        let harvests: Vec<_> = harvests
            .iter()
            .map(|h| (day(&h["day"]), h["amount"].as_f64()))
            .collect();
        let meant: Vec<_> = stay
            .harvests
            .iter()
            .map(|h| (Some(h.day), Some(h.amount)))
            .collect();
        let names = ["hole", "crop", "want"].map(|key| row[key].as_str().unwrap_or_default());
        let days = ["sow", "transplant", "removal"].map(|key| day(&row[key]));
        let marks = ["on_hand", "stands", "for_seed"].map(|key| row[key].as_bool() == Some(true));
        let right = names == [&stay.hole, &stay.crop, &stay.want]
            && days == [stay.sow, Some(stay.transplant), Some(stay.removal)]
            && marks == [stay.on_hand, stay.stands, stay.for_seed]
            && harvests == meant;
        if !right {
            faults.push(format!("data: {row} is not {stay:?}"));
        }
        for (on, much) in harvests {
            let (Some(on), Some(much)) = (on, much) else {
                continue;
            };
            let monday = on - Days::new(u64::from(on.weekday().num_days_from_monday()));
            *weeks.entry((names[2].to_owned(), monday)).or_default() += much;
        }
    }
    for want in list(told, "wants") {
        for week in list(want, "weeks") {
            let name = want["want"].as_str().unwrap_or_default();
            let monday = day(&week["monday"]).unwrap_or_default();
            let sum = weeks.remove(&(name.to_owned(), monday)).unwrap_or(0.0);
            // What was harvested in it before the plan's first day counts, too.
            let is_begun = !plan.diary.is_empty() && monday <= plan.start;
            let right = |d: f64| (d - sum).abs() < 1e-6 || is_begun && d > sum;
            if !week["delivered"].as_f64().is_some_and(right) {
                faults.push(format!("data: {week} of {name}, where {sum} is harvested"));
            }
        }
    }
    // Of a last week that is not whole nothing is told.
    weeks.retain(|(_, monday), _| *monday + Days::new(6) <= plan.last);
    for ((want, monday), sum) in weeks {
        faults.push(format!("data: {sum} of {want} from {monday} is of no week"));
    }
    let cleans = list(told, "cleans").iter();
    let cleans: Vec<_> = cleans
        .map(|c| (c["tube"].as_str().unwrap_or_default(), day(&c["day"])))
        .collect();
    let meant = plan.cleans.iter();
    let meant: Vec<_> = meant.map(|c| (c.tube.as_str(), Some(c.day))).collect();
    if cleans != meant {
        faults.push(format!("data: scrubbed {cleans:?}, not {meant:?}"));
    }
}

/// Sums of the summary.
fn sums(summary: &Value, plan: &Plan, faults: &mut Vec<String>) {
    let mut near = |what: String, told: &Value, is: f64| {
        if told
            .as_f64()
            .is_none_or(|told| (told - is).abs() > 1e-6 * is.abs().max(1.0))
        {
            faults.push(format!("data: {what} is told as {told}, not {is}"));
        }
    };
    let count = |n: usize| u32::try_from(n).map(f64::from).expect("few");
    for (told, want) in list(summary, "wants").iter().zip(&plan.wants) {
        let name = &want.want;
        let weeks: Vec<_> = want.weeks.iter().filter(|w| w.target > 0.0).collect();
        if weeks.is_empty() {
            continue;
        }
        let delivered: f64 = weeks.iter().map(|w| w.delivered).sum();
        let target: f64 = weeks.iter().map(|w| w.target).sum();
        let met: f64 = weeks.iter().map(|w| w.delivered.min(w.target)).sum();
        near(
            format!("a week of {name}"),
            &told["average"],
            delivered / count(weeks.len()),
        );
        near(format!("what is met of {name}"), &told["met"], met / target);
        let shares = weeks.iter().map(|w| w.delivered / w.target);
        let worst = shares.fold(f64::INFINITY, f64::min);
        let monday = day(&told["worst"]["monday"]);
        let of_worst = weeks.iter().find(|w| Some(w.monday) == monday);
        let share = of_worst.map_or(f64::NAN, |w| w.delivered / w.target);
        near(
            format!("the leanest week of {name}"),
            &Value::from(share),
            worst,
        );
        let least = of_worst.map_or(f64::NAN, |w| w.delivered);
        near(
            format!("the least of {name}"),
            &told["worst"]["delivered"],
            least,
        );
    }
    let days = plan.start.iter_days().take_while(|d| *d <= plan.last);
    let in_use = days.map(|d| {
        let stays = plan.stays.iter();
        stays.filter(|s| s.transplant <= d && d < s.removal).count()
    });
    let in_use: Vec<usize> = in_use.collect();
    let mean = count(in_use.iter().sum()) / count(in_use.len());
    near("holes in use".to_owned(), &summary["holes"]["mean"], mean);
    let most = in_use.iter().copied().max().unwrap_or(0);
    near(
        "most holes".to_owned(),
        &summary["holes"]["most"],
        count(most),
    );
    let used = plan
        .water
        .iter()
        .filter(|w| w.used.iter().any(|u| *u > 0.0));
    let told = list(summary, "water");
    near(
        "loops".to_owned(),
        &Value::from(told.len()),
        count(used.clone().count()),
    );
    for (told, water) in told.iter().zip(used) {
        let name = &water.r#loop;
        let most = water.used.iter().copied().fold(0.0, f64::max);
        let topped_up: f64 = water.top_ups.iter().map(|t| t.litres).sum();
        let filled: f64 = water.changes.iter().map(|c| c.filled).sum();
        near(
            format!("used in {name}"),
            &told["used"],
            water.used.iter().sum(),
        );
        near(format!("most used in {name}"), &told["most"], most);
        near(
            format!("top-ups of {name}"),
            &told["top_ups"],
            count(water.top_ups.len()),
        );
        near(
            format!("topped up in {name}"),
            &told["topped_up"],
            topped_up,
        );
        near(
            format!("fillings of {name}"),
            &told["fillings"],
            count(water.changes.len()),
        );
        near(format!("filled in {name}"), &told["filled"], filled);
        // All that was put in was used, drained, or is there.
        let at = day(&told["thirstiest"]).map(|d| (d - plan.start).num_days());
        let at = at.and_then(|at| usize::try_from(at).ok());
        let used = at.and_then(|at| water.used.get(at)).copied();
        near(
            format!("the thirstiest day of {name}"),
            &Value::from(used),
            most,
        );
    }
}
