//! When each tube has to be emptied and scrubbed, by what the diary has of it and where plants are
//! left to flower for their seed.

use crate::lantern::{FILE, date};
use chrono::{Days, NaiveDate};
use rstest::rstest;
use steadyleaf::diary::{Entry, Event, replay};
use steadyleaf::garden::cards::Cards;
use steadyleaf::garden::{Garden, file};
use steadyleaf::planner::build::{PlanningState, build_from};

fn day(n: u64) -> NaiveDate {
    date("2027-03-01") + Days::new(n)
}

/// A garden whose tubes are due on day 140 and day 280, three weeks sooner or later.
fn scrubbed_in_turn(keep_for_seed: &str) -> Garden {
    let text = format!(
        "{FILE}  deep_clean: {{ every: 140 days, slack: 21 days }}\nkeep_for_seed: [{keep_for_seed}]\n"
    );
    file::parse(&text, "garden.yaml", &Cards::built_in()).unwrap_or_else(|e| panic!("{e}"))
}

/// The windows of the first tube, in days from the one on which is planned.
fn windows(garden: &Garden, happened: Vec<(u64, Event)>, today: u64) -> Vec<[u32; 2]> {
    let entries = happened.into_iter().map(|(n, event)| Entry {
        on: day(n),
        event,
        as_planned: false,
    });
    let entries: Vec<Entry> = entries.collect();
    let (state, left_out) = replay(garden, &entries, day(today));
    assert!(left_out.is_empty(), "{left_out:?}");
    let setting = PlanningState::from_diary(garden, &state, day(today)).unwrap();
    let problem = build_from(garden, &setting).problem;
    let of_first = problem.cleans.iter().filter(|c| c.tube == 0);
    of_first.map(|c| c.days).collect()
}

fn cleaned() -> Event {
    Event::Cleaned {
        tube: "deck-1".to_owned(),
    }
}

/// One that was missed is done within three weeks, unless the next may be done already.
#[rstest]
#[case::at_the_start(0, None, &[[119, 161], [259, 301]])]
#[case::in_time(150, None, &[[0, 11], [109, 151]])]
#[case::done(150, Some(130), &[[109, 151]])]
#[case::done_too_long_ago(150, Some(60), &[[0, 11], [109, 151]])]
#[case::missed(170, None, &[[0, 21], [89, 131]])]
#[case::missed_and_the_next_is_near(260, None, &[[0, 41]])]
#[case::both_missed(310, None, &[[0, 21]])]
fn a_tube_is_scrubbed_in_its_time(
    #[case] today: u64,
    #[case] scrubbed: Option<u64>,
    #[case] expected: &[[u32; 2]],
) {
    let happened = scrubbed.into_iter().map(|n| (n, cleaned())).collect();
    assert_eq!(windows(&scrubbed_in_turn(""), happened, today), expected);
}

/// A seed plant that is set out on a Wednesday, day 100, and stands until a day. Where it is in the
/// way through a whole window, the tube is scrubbed when it is out, unless by then the next window
/// is nearer: from day 210 on. What is planned before it is set out, while it stands and afterwards
/// is the same.
#[rstest]
#[case::for_a_part(138, 0, None, &[[138, 161], [259, 301]])]
#[case::all_the_time(180, 0, None, &[[180, 201], [259, 301]])]
#[case::it_stands(180, 110, None, &[[70, 91], [149, 191]])]
#[case::it_stands_when_the_window_is_past(180, 170, None, &[[10, 31], [89, 131]])]
#[case::it_is_out(180, 183, None, &[[0, 18], [76, 118]])]
#[case::it_is_out_and_nobody_scrubbed(180, 205, None, &[[0, 21], [54, 96]])]
#[case::it_is_out_and_it_was_scrubbed(180, 183, Some(180), &[[76, 118]])]
#[case::nearly_until_the_next_is_nearer(198, 0, None, &[[198, 209], [259, 301]])]
#[case::until_the_next_is_nearer(215, 0, None, &[[259, 301]])]
#[case::it_stands_until_the_next_is_nearer(215, 170, None, &[[89, 131]])]
#[case::it_is_out_when_the_next_is_nearer(215, 220, None, &[[39, 81]])]
#[case::into_the_next(271, 0, None, &[[271, 301]])]
#[case::it_stands_into_the_next(271, 170, None, &[[101, 131]])]
fn a_tube_with_a_seed_plant_is_scrubbed_when_it_is_out(
    #[case] until: u64,
    #[case] today: u64,
    #[case] scrubbed: Option<u64>,
    #[case] expected: &[[u32; 2]],
) {
    let hole = || "deck-1-1".to_owned();
    let (from, to) = (day(100), day(until));
    let garden = scrubbed_in_turn(&format!(
        "{{ hole: deck-1-1, crop: butterhead, from: {from}, until: {to} }}"
    ));
    let transplanted = Event::Transplanted {
        crop: "butterhead".to_owned(),
        hole: hole(),
        sown_on: None,
        want: None,
        given: false,
    };
    let happened = [
        (100, transplanted),
        (until, Event::Cleared { hole: hole() }),
    ];
    let scrubbed = scrubbed.map(|n| (n, cleaned()));
    let happened = happened.into_iter().chain(scrubbed);
    let happened = happened.filter(|(n, _)| *n < today).collect();
    assert_eq!(windows(&garden, happened, today), expected);
}
