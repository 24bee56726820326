//! From names, numbers and dates to the sentences of a chore, in the grower's language.
//!
//! Which text is told is decided here and in the files beside this one, a file for what is done
//! with the same things; the texts themselves are in `src/text/catalogues/`.

pub(crate) mod changeover;
pub(crate) mod harvest;
pub(crate) mod nursery;
mod rig;
pub(crate) mod solution;

use crate::chores::{Kind, MAX_TITLE_CHARACTERS};
use crate::text::Language;

/// The longest line of details on a screen [characters]: a few lines of a phone.
pub(super) const MAX_LINE_CHARACTERS: usize = 400;

pub(crate) fn kind_name(kind: Kind, language: Language) -> String {
    language.text(&format!("kind-{}", kind.key()))
}

/// A text cut to so many characters, where it is longer.
pub(super) fn truncate(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let kept: String = text.chars().take(most - 1).collect();
    // A joiner at the cut would glue the ellipsis to an emoji.
    format!("{}…", kept.trim_end_matches(['\u{200d}', ' ', ',']))
}

/// A number as one writes it: tenths only where there are any.
fn tenths(number: f64) -> String {
    let text = format!("{number:.1}");
    text.strip_suffix(".0").unwrap_or(&text).to_owned()
}

/// The words of one language.
#[derive(Debug, Clone, Copy)]
pub(super) struct ChoreText(pub(super) Language);

impl ChoreText {
    fn texts<const N: usize>(self, keys: [&str; N]) -> Vec<String> {
        keys.iter().map(|key| self.0.text(key)).collect()
    }

    /// A lead and as many of the items as the lock screen takes.
    fn title(self, lead: &str, items: &[impl AsRef<str>]) -> String {
        let lead = self.0.text(lead);
        let told = |shown: usize| {
            let listed: Vec<&str> = items[..shown].iter().map(AsRef::as_ref).collect();
            let most = format!("{lead} {}", listed.join(", "));
            match items.len() - shown {
                0 => most,
                rest => {
                    let values = [("most", most.into()), ("n", rest.into())];
                    self.0.format("list-more", values)
                }
            }
        };
        (1..=items.len())
            .rev()
            .map(told)
            .find(|text| text.chars().count() <= MAX_TITLE_CHARACTERS)
            .unwrap_or_else(|| truncate(&told(items.len().min(1)), MAX_TITLE_CHARACTERS))
    }

    pub(super) fn more_on_the_sheet(self, left: usize) -> String {
        self.0.format("more-on-the-sheet", [("n", left.into())])
    }

    fn hole_count(self, n: usize) -> String {
        self.0.format("count-holes", [("n", n.into())])
    }

    pub(super) fn tube_sum(self, tube: &str, holes: usize) -> String {
        format!("{tube} ({})", self.hole_count(holes))
    }

    /// Sums of tubes, and how many are left out.
    pub(super) fn tubes_summed(self, tubes: &str, left: usize) -> String {
        let values = [("tubes", tubes.into()), ("n", left.into())];
        self.0.format("tubes-summed", values)
    }
}

/// `deck-1: 2, 5`; a tube without numbers stands for itself.
pub(super) fn tube_holes(tube: &str, numbers: &str) -> String {
    if numbers.is_empty() {
        tube.to_owned()
    } else {
        format!("{tube}: {numbers}")
    }
}
