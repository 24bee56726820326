//! Holes in short, readable form: `deck-1: 2, 5; wall-2: 1-4`.

use crate::chores::words::{self, ChoreText};

/// A list of holes longer than this [characters] is told as sums on a screen.
const MAX_LIST_CHARACTERS: usize = 160;

/// A hole by the parts of its name, in the order in which one walks along the rig.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct HolePlace<'a> {
    /// Position of the bank in the garden.
    position: usize,
    tube_number: u32,
    tube: &'a str,
    number: u32,
}

impl<'a> HolePlace<'a> {
    /// From a name such as `deck-2-5`; `position` tells where a bank is in the garden. A name of
    /// another form stands for itself.
    pub(super) fn parse(name: &'a str, position: impl Fn(&str) -> Option<usize>) -> Self {
        let whole = Self {
            position: usize::MAX,
            tube_number: 0,
            tube: name,
            number: 0,
        };
        let parts = || {
            let (tube, number) = name.rsplit_once('-')?;
            let (bank, tube_number) = tube.rsplit_once('-')?;
            Some(Self {
                position: position(bank).unwrap_or(usize::MAX),
                tube_number: tube_number.parse().ok()?,
                tube,
                number: number.parse().ok()?,
            })
        };
        parts().unwrap_or(whole)
    }

    /// The tube's name.
    pub(super) fn tube(&self) -> &'a str {
        self.tube
    }

    /// The bank's name.
    pub(super) fn bank(&self) -> &'a str {
        self.tube
            .rsplit_once('-')
            .map_or(self.tube, |(bank, _)| bank)
    }
}

/// The holes by tube, runs joined.
pub(super) fn list_all(holes: &[HolePlace<'_>]) -> String {
    let tubes = by_tube(holes);
    let tubes = tubes
        .iter()
        .map(|(tube, numbers)| words::tube_holes(tube, &join_runs(numbers)));
    tubes.collect::<Vec<_>>().join("; ")
}

/// [`list_all`] hole; where that would be too long, sums by tube, and the first tubes only where
/// even that is, with a word of where the holes are told.
pub(super) fn list_short(holes: &[HolePlace<'_>], words: ChoreText) -> String {
    let exact = list_all(holes);
    if exact.chars().count() <= MAX_LIST_CHARACTERS {
        return exact;
    }
    let sums: Vec<String> = by_tube(holes)
        .iter()
        .map(|(tube, numbers)| words.tube_sum(tube, numbers.len()))
        .collect();
    take_fitting(&sums, words)
}

/// Numbers of the holes of each tube, in order.
fn by_tube<'a>(holes: &[HolePlace<'a>]) -> Vec<(&'a str, Vec<u32>)> {
    let mut sorted = holes.to_vec();
    sorted.sort_unstable();
    sorted
        .chunk_by(|a, b| a.tube == b.tube)
        .map(|of_tube| (of_tube[0].tube, of_tube.iter().map(|h| h.number).collect()))
        .collect()
}

/// `1-4, 7, 9`; nothing for a hole that has no number.
fn join_runs(numbers: &[u32]) -> String {
    let parts: Vec<String> = numbers
        .chunk_by(|a, b| a + 1 == *b)
        .flat_map(|run| match run {
            [first, _, .., last] => vec![format!("{first}-{last}")],
            few => few.iter().filter(|n| **n > 0).map(u32::to_string).collect(),
        })
        .collect();
    parts.join(", ")
}

fn take_fitting(sums: &[String], words: ChoreText) -> String {
    let mut length = 0;
    let shown = sums
        .iter()
        .take_while(|sum| {
            length += sum.chars().count() + 2;
            length <= MAX_LIST_CHARACTERS
        })
        .count()
        .max(1);
    words.tubes_summed(&sums[..shown].join(", "), sums.len() - shown)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::Language;

    fn sorted_list(names: &[&str]) -> String {
        let banks = ["deck", "east-wall"];
        let holes: Vec<HolePlace> = names
            .iter()
            .map(|name| HolePlace::parse(name, |bank| banks.iter().position(|b| *b == bank)))
            .collect();
        list_short(&holes, ChoreText(Language::ENGLISH))
    }

    #[test]
    fn holes_are_told_by_tube_in_the_gardens_order() {
        assert_eq!(
            sorted_list(&[
                "east-wall-2-3",
                "deck-10-1",
                "deck-2-5",
                "deck-2-2",
                "east-wall-2-1",
                "east-wall-2-2",
                "east-wall-2-4"
            ]),
            "deck-2: 2, 5; deck-10: 1; east-wall-2: 1-4"
        );
    }

    #[test]
    fn two_side_by_side_are_no_run_and_odd_names_stand_for_themselves() {
        assert_eq!(
            sorted_list(&["deck-1-1", "deck-1-2", "attic"]),
            "deck-1: 1, 2; attic"
        );
    }

    #[test]
    fn many_scattered_holes_are_summed_and_many_tubes_cut_short() {
        let odd: Vec<String> = (0..60)
            .map(|i| format!("deck-{}-{}", i % 6 + 1, 2 * (i / 6) + 1))
            .collect();
        let odd: Vec<&str> = odd.iter().map(String::as_str).collect();
        assert_eq!(
            sorted_list(&odd),
            "deck-1 (10 holes), deck-2 (10 holes), deck-3 (10 holes), deck-4 (10 holes), deck-5 (10 holes), deck-6 (10 holes); see the sheet"
        );
        let far: Vec<String> = (1..=400).map(|i| format!("deck-{i}-1")).collect();
        let far: Vec<&str> = far.iter().map(String::as_str).collect();
        let text = sorted_list(&far);
        assert!(
            text.ends_with("and 391 more tubes; see the sheet"),
            "{text}"
        );
    }
}
