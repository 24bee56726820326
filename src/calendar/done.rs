//! Work of today that was done: its event stays as it stands in the calendar, its task is ticked
//! off.

use crate::calendar::state::PublishedEvent;
use crate::calendar::{ComponentKind, wire};

/// What is told of work that was done, and its component, unfolded; nothing if no file has it any
/// more.
pub(super) fn done(
    published: &PublishedEvent,
    files: &[String],
    now: chrono::DateTime<chrono::Utc>,
) -> Option<(PublishedEvent, String)> {
    let component = files
        .iter()
        .find_map(|file| find_component(file, published))?;
    if published.form == ComponentKind::Events || component.iter().any(|line| line == COMPLETED) {
        return Some((published.clone(), text(&component)));
    }
    let mut published = PublishedEvent {
        sequence: published.sequence + 1,
        changed: now.max(published.changed + chrono::TimeDelta::seconds(1)),
        ..published.clone()
    };
    let component = completed_todo(&component, &published);
    published.fingerprint = wire::fingerprint(component.iter().map(String::as_str));
    Some((published, text(&component)))
}

const COMPLETED: &str = "STATUS:COMPLETED";

fn text(lines: &[String]) -> String {
    lines.iter().map(|line| format!("{line}\r\n")).collect()
}

/// The lines of what was told, as a calendar has them.
fn find_component(file: &str, published: &PublishedEvent) -> Option<Vec<String>> {
    let name = match published.form {
        ComponentKind::Events => "VEVENT",
        ComponentKind::Todos => "VTODO",
    };
    let (begin, end) = (format!("BEGIN:{name}"), format!("END:{name}"));
    let uid = format!("UID:{}", published.uid);
    let file = wire::unfold(file);
    let mut lines = Vec::new();
    for line in file.split_terminator("\r\n") {
        if line == begin {
            lines.clear();
        }
        lines.push(line.to_owned());
        if line == end && lines.contains(&uid) {
            return Some(lines);
        }
    }
    None
}

/// The task as done (RFC 5545, 3.8.1.11, 3.8.1.8 and 3.8.2.1), without its alarms.
fn completed_todo(lines: &[String], published: &PublishedEvent) -> Vec<String> {
    let now = published.changed.format("%Y%m%dT%H%M%SZ");
    let mut ticked = Vec::new();
    let mut in_alarm = false;
    for line in lines {
        in_alarm |= line == "BEGIN:VALARM";
        let name = line.split_once(':').map_or("", |(name, _)| name);
        match name {
            _ if in_alarm => {}
            "DTSTAMP" | "LAST-MODIFIED" => ticked.push(format!("{name}:{now}")),
            "SEQUENCE" => ticked.push(format!("{name}:{}", published.sequence)),
            "END" => ticked.extend([
                COMPLETED.to_owned(),
                "PERCENT-COMPLETE:100".to_owned(),
                format!("COMPLETED:{now}"),
                line.clone(),
            ]),
            _ => ticked.push(line.clone()),
        }
        in_alarm &= line != "END:VALARM";
    }
    ticked
}
