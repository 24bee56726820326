//! Which event is which: the same chore has the same identity in every calendar that is made of
//! the same garden.

use crate::chores::Chore;
use crate::garden::Garden;

/// The longest part of a garden's name in an identity [characters].
const NAME_LENGTH: usize = 40;

/// The event's UID: garden, kind and day, in lower-case letters, digits, `-` and `@`.
///
/// A chore of one kind on one day is the same event, however much its text changes. Gardens of
/// different names never meet in it, even where their letters would be the same without accents.
#[must_use]
pub fn uid(chore: &Chore, garden: &Garden) -> String {
    let name = plain_letters(&garden.name);
    let dash = if name.is_empty() { "" } else { "-" };
    format!(
        "{name}{dash}{:08x}-{}-{}@steadyleaf",
        fingerprint(&garden.name),
        chore.kind.key(),
        chore.day.format("%Y%m%d"),
    )
}

/// The name's ASCII letters and digits, in lower case, words joined by `-`.
fn plain_letters(name: &str) -> String {
    let lower = name.to_ascii_lowercase();
    let words = lower
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty());
    let joined = words.collect::<Vec<_>>().join("-");
    let kept = &joined[..joined.len().min(NAME_LENGTH)];
    kept.trim_end_matches('-').to_owned()
}

/// FNV-1a, folded to 32 bits: the same on every machine and in every version, as the standard
/// library's hashes are not (Fowler, Noll and Vo; constants of the 64-bit form).
fn fingerprint(text: &str) -> u32 {
    let hash = text.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
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
        assert_eq!(fingerprint("foobar"), 0x8594_4171 ^ 0xf739_67e8);
    }

    #[test]
    fn names_keep_their_plain_letters() {
        assert_eq!(
            plain_letters("Lantern Court, rooftop!"),
            "lantern-court-rooftop"
        );
        assert_eq!(plain_letters("خس"), "");
        assert_eq!(plain_letters(&"ab-".repeat(100)).len(), 40);
    }
}
