//! Which event is which: the same chore has the same identity in every calendar that is made of
//! the same garden.

use std::collections::BTreeSet;

use crate::calendar::item::CalendarItem;
use crate::calendar::{ComponentKind, text};
use crate::chores::Chore;
use crate::fingerprint::{fnv_1a, hexadecimal};
use crate::garden::Garden;

/// The longest part of a garden's name in an identity [characters].
const MAX_NAME_CHARACTERS: usize = 40;

/// The UID that a chore's event is given when it is first told: garden, kind and day, in
/// lower-case letters, digits, `-` and `@`. It is kept for good, also where the chore moves.
///
/// Gardens of different names never meet in it, even where their letters would be the same
/// without accents.
#[must_use]
pub fn uid(chore: &Chore, garden: &Garden) -> String {
    format!("{}@steadyleaf", stem(chore, garden))
}

fn stem(chore: &Chore, garden: &Garden) -> String {
    let name = slug(&garden.name);
    let dash = if name.is_empty() { "" } else { "-" };
    format!(
        "{name}{dash}{:08x}-{}-{}",
        name_hash(&garden.name),
        chore.kind.key(),
        chore.day.format("%Y%m%d"),
    )
}

/// The longest telling of what a chore is about [bytes].
const MAX_ABOUT_BYTES: usize = 200;

/// What a chore is about, as it is remembered: on a large rig a fingerprint of it stands for the
/// names of a thousand tubes.
pub(super) fn about(chore: &Chore) -> String {
    let about = text::one_line(&chore.about);
    if about.len() <= MAX_ABOUT_BYTES {
        about
    } else {
        hexadecimal(about.bytes())
    }
}

/// The UID of something that was never told before; a number sets it apart where one that has
/// moved away holds it already.
pub(crate) fn new_uid(
    item: &CalendarItem,
    garden: &Garden,
    form: ComponentKind,
    taken: &BTreeSet<String>,
) -> String {
    let mut stem = stem(&item.chore, garden);
    // A task and an event of one UID cannot both be in a calendar.
    if form == ComponentKind::Todos {
        stem += "-todo";
    }
    if item.repeats() {
        stem += "-series";
    }
    let first = format!("{stem}@steadyleaf");
    let others = (2..).map(|n| format!("{stem}-{n}@steadyleaf"));
    let mut free = std::iter::once(first).chain(others);
    free.find(|uid| !taken.contains(uid)).unwrap_or_default()
}

/// The name's ASCII letters and digits, in lower case, words joined by `-`.
fn slug(name: &str) -> String {
    let lower = name.to_ascii_lowercase();
    let words = lower
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty());
    let joined = words.collect::<Vec<_>>().join("-");
    let kept = &joined[..joined.len().min(MAX_NAME_CHARACTERS)];
    kept.trim_end_matches('-').to_owned()
}

/// A name's fingerprint in few letters.
fn name_hash(text: &str) -> u32 {
    let hash = fnv_1a(text.bytes());
    #[allow(clippy::cast_possible_truncation)]
    let folded = (hash ^ (hash >> 32)) as u32;
    folded
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 64-bit FNV-1a of "foobar" is 85944171f73967e8 (the authors' published test vectors).
    #[test]
    fn fingerprints_are_fnv_1a_folded() {
        assert_eq!(name_hash("foobar"), 0x8594_4171 ^ 0xf739_67e8);
    }

    #[test]
    fn names_keep_their_plain_letters() {
        assert_eq!(slug("Lantern Court, rooftop!"), "lantern-court-rooftop");
        assert_eq!(slug("خس"), "");
        assert_eq!(slug(&"ab-".repeat(100)).len(), 40);
    }
}
