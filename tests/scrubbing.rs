//! When each tube has to be emptied and scrubbed, by what the diary has of it.

use crate::lantern::{date, garden};
use chrono::Days;
use rstest::rstest;
use steadyleaf::garden::DeepClean;
use steadyleaf::garden::diary::{Entry, Event, replay};
use steadyleaf::planner::build::{Setting, build_from};
use steadyleaf::quantity;

/// Due on day 140 and day 280, three weeks sooner or later; days count from the one on which is
/// planned. One that was missed is done within three weeks, unless the next may be done already.
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
    let mut garden = garden();
    garden.rhythm.deep_clean = Some(DeepClean {
        every: quantity::Days::days(140.0),
        slack: quantity::Days::days(21.0),
    });
    let day = |n: u64| date("2027-03-01") + Days::new(n);
    let entry = |n: u64| Entry {
        on: day(n),
        event: Event::Cleaned {
            tube: "deck-1".to_owned(),
        },
        as_planned: false,
    };
    let entries: Vec<Entry> = scrubbed.into_iter().map(entry).collect();
    let (state, left_out) = replay(&garden, &entries, day(today));
    assert!(left_out.is_empty(), "{left_out:?}");
    let setting = Setting::on(&garden, &state, day(today)).unwrap();
    let problem = build_from(&garden, &setting).problem;
    let of_first = problem.cleans.iter().filter(|c| c.tube == 0);
    assert_eq!(of_first.map(|c| c.days).collect::<Vec<_>>(), expected);
}
